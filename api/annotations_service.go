package api

//lint:file-ignore U1000 swag reads the comments; nothing calls the functions that carry them

// @Summary What is served here
// @Description A set of links (RFC 9264) to what describes this service (RFC 9727).
// @Tags service
// @Produce json
// @Success 200 {object} linkset "the catalogue"
// @Failure 400 {object} wire.Problem "an unknown parameter"
// @Router /.well-known/api-catalog [get]
func docCatalogue() {}
