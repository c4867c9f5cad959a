// Package mtconnect reads and writes a cutting tool as an asset of MTConnect, the open standard
// by which machine tools, presetters and tool management tell of tools.
//
// The types below are the elements of the schema MTConnectAssets 2.7, of which
// testdata/schemas/mtconnect has the part in question. Lengths are in millimetres, angles in
// degrees, spindle speeds in revolutions per minute and feed rates in millimetres per second.
package mtconnect

import (
	"bytes"
	"encoding/xml"
)

// Namespace is that of the version that is written; any version is read.
const Namespace = "urn:mtconnect.org:MTConnectAssets:2.7"

// Unavailable is the standard's word for what is not known.
const Unavailable = "UNAVAILABLE"

// CuttingTool is the asset.
type CuttingTool struct {
	AssetID      string    `xml:"assetId,attr"`
	Timestamp    string    `xml:"timestamp,attr"`
	DeviceUUID   string    `xml:"deviceUuid,attr"`
	SerialNumber string    `xml:"serialNumber,attr,omitempty"`
	ToolID       string    `xml:"toolId,attr"`
	LifeCycle    LifeCycle `xml:"CuttingToolLifeCycle"`
	Description  string    `xml:"Description,omitempty"`
}

// LifeCycle is what is known of the tool in use.
type LifeCycle struct {
	Status       []string      `xml:"CutterStatus>Status"`
	ToolLife     []Life        `xml:"ToolLife"`
	SpindleSpeed *Range        `xml:"ProcessSpindleSpeed"`
	FeedRate     *Range        `xml:"ProcessFeedRate"`
	Measurements *Measurements `xml:"Measurements"`
	Items        *Items        `xml:"CuttingItems"`
}

// Life is how long the tool cuts, in minutes, parts or wear.
type Life struct {
	Type      string `xml:"type,attr"`
	Direction string `xml:"countDirection,attr"`
	Warning   string `xml:"warning,attr,omitempty"`
	Limit     string `xml:"limit,attr,omitempty"`
	Initial   string `xml:"initial,attr,omitempty"`
	Value     string `xml:",chardata"`
}

// Range is a speed or feed of the process, with the least and the most it may be.
type Range struct {
	Maximum string `xml:"maximum,attr,omitempty"`
	Minimum string `xml:"minimum,attr,omitempty"`
	Nominal string `xml:"nominal,attr,omitempty"`
	Value   string `xml:",chardata"`
}

// Measurements are dimensions, each an element of its own name.
type Measurements struct {
	All []Measurement `xml:",any"`
}

// Measurement is one dimension. Code is its symbol in ISO 13399.
type Measurement struct {
	XMLName xml.Name
	Code    string `xml:"code,attr,omitempty"`
	Units   string `xml:"units,attr,omitempty"`
	Nominal string `xml:"nominal,attr,omitempty"`
	Value   string `xml:",chardata"`
}

// Items are the cutting items: edges of a solid tool, or inserts.
type Items struct {
	Count string `xml:"count,attr"`
	All   []Item `xml:"CuttingItem"`
}

// Item is one of them, or several alike.
type Item struct {
	Indices      string        `xml:"indices,attr"`
	Grade        string        `xml:"grade,attr,omitempty"`
	Locus        string        `xml:"Locus,omitempty"`
	Measurements *Measurements `xml:"Measurements"`
}

// XML is the asset as a document of its own.
func (t *CuttingTool) XML() ([]byte, error) {
	var b bytes.Buffer
	b.WriteString(xml.Header)
	e := xml.NewEncoder(&b)
	e.Indent("", "  ")
	start := xml.StartElement{Name: xml.Name{Local: "CuttingTool"}, Attr: []xml.Attr{{Name: xml.Name{Local: "xmlns"}, Value: Namespace}}}
	if err := e.EncodeElement(t, start); err != nil {
		return nil, err
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}
