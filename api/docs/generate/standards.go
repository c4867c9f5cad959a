package generate

import (
	"maps"

	"github.com/getkin/kin-openapi/openapi3"
)

// standards says where answers speak the vocabularies of open standards.
func standards(doc *openapi3.T) {
	codes := openapi3.NewQueryParameter("codes").WithDescription("show the tool that was computed with, each property by its readable name and its symbol of ISO 13399").
		WithSchema(openapi3.NewStringSchema().WithEnum("iso13399"))
	for _, path := range []string{"/v1/estimates", "/v1/recommendations"} {
		for _, o := range []*openapi3.Operation{doc.Paths.Value(path).Post, doc.Paths.Value(path).Get, doc.Paths.Value(path + "/batch").Post} {
			o.Parameters = append(o.Parameters, &openapi3.ParameterRef{Value: codes})
		}
	}
	tool, master := text("a CuttingTool element of MTConnectAssets 2.7: spindle speed in revolutions per minute, feed rate in mm/s, each with the ends of its override window"),
		text("a WorkMaster element of B2MML 0701, its units common codes of UN/ECE Recommendation 20; refused cuts have none")
	for path, media := range map[string]openapi3.Content{"/v1/recommendations": {assetMedia: tool, masterMedia: master}, "/v1/estimates": {masterMedia: master}, "/v1/plans": {masterMedia: master}} {
		for _, o := range doc.Paths.Value(path).Operations() {
			maps.Copy(o.Responses.Value("200").Value.Content, media)
			offered(o)
		}
	}
	assets := doc.Paths.Value("/v1/tool-assets").Post
	document := text("a CuttingTool element of MTConnect, or the MTConnectAssets document around it")
	document.Example = aTool
	assets.Parameters.GetByInAndName("query", "class").Example = "mill-end"
	assets.RequestBody.Value.Content = openapi3.Content{"application/xml": document, "text/xml": document, assetMedia: document}
}

// Media types of documents of open standards, our own for want of registered ones.
const (
	assetMedia  = "application/vnd.swarf.mtconnect+xml"
	masterMedia = "application/vnd.swarf.b2mml+xml"
)

// aTool is an invented asset to send from the page.
const aTool = `<CuttingTool xmlns="urn:mtconnect.org:MTConnectAssets:2.7" assetId="EM12.1" toolId="EM12" timestamp="2026-03-02T08:00:00Z" deviceUuid="demo"><CuttingToolLifeCycle><CutterStatus><Status>NEW</Status></CutterStatus><ProcessSpindleSpeed nominal="2300" maximum="12000"/><Measurements><CuttingDiameterMax code="DC">12</CuttingDiameterMax><DepthOfCutMax code="APMX">26</DepthOfCutMax></Measurements><CuttingItems count="4"><CuttingItem indices="1-4"><Measurements><CornerRadius code="RE">0.5</CornerRadius></Measurements></CuttingItem></CuttingItems></CuttingToolLifeCycle></CuttingTool>`
