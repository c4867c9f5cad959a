package api

import (
	"mime"
	"net/http"
	"slices"

	"swarf/api/mtconnect"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/estimate"
)

// standardRoutes are the rows that read documents of open standards.
func standardRoutes() []route {
	return []route{{http.MethodPost, "/v1/tool-assets", readToolAsset, computing, []string{"class", "units", "as_of", "valid_at"}, tableFormats}}
}

// xmlTypes are the media types of an XML document (RFC 7303), and our own for the asset.
var xmlTypes = []string{"application/xml", "text/xml", formatTable[formatMTConnect].media}

// readToolAsset answers POST /v1/tool-assets: a tool as it goes into a cut, read from a
// cutting tool asset of MTConnect. Nothing is stored.
func readToolAsset(x *exchange) error {
	if err := checkXML(x.Request()); err != nil {
		return err
	}
	return x.readBody(x.s.Limits.BodyBytes, func(data []byte) error {
		asset, err := mtconnect.Parse(data)
		if err != nil {
			return fault(domain.Unreadable, "xml-invalid", "", "the document cannot be read: "+clip(err.Error()), "send one CuttingTool element of MTConnect, or the document around it, in UTF-8")
		}
		snap, err := x.now()
		if err != nil {
			return err
		}
		r := assetReading{asset: asset, taken: asset.Dimensions(), system: x.system}
		r.out = &wire.ToolAsset{Units: x.system.String(), DataRevision: snap.Revision, ModelVersion: estimate.ModelVersion,
			AssetID: asset.AssetID, ToolID: asset.ToolID, SerialNumber: asset.SerialNumber,
			Properties: []wire.PropertyRead{}, ToolLife: []wire.AssetLife{}, Unread: []wire.Unread{}}
		r.toBe(snap, x.query.text("class"))
		r.read()
		if err := r.faults.List.OrNil(); err != nil {
			return err
		}
		return x.render(http.StatusOK, r.out)
	})
}

// checkXML requires a plain XML document.
func checkXML(r *http.Request) error {
	const fix = "send Content-Type: application/xml"
	media, params, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || !slices.Contains(xmlTypes, media) {
		return fault(domain.Invalid, "media-type-unsupported", "Content-Type", "the body is "+quoteClipped(r.Header.Get("Content-Type"))+", not an XML document", fix)
	}
	return checkPlain(r, params)
}
