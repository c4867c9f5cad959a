// Package b2mml writes parameters of a cut as a work master of B2MML, the XML form of ISA-95
// (IEC 62264) by which an MES takes over how a job is run. Units are common codes of UN/ECE
// Recommendation 20; a number whose unit has none there carries its UCUM code instead.
//
// The types below are the elements of B2MML 0701, of which testdata/schemas/b2mml has the part
// in question. The Business To Manufacturing Markup Language (B2MML) is used courtesy of MESA
// International.
package b2mml

import (
	"bytes"
	"encoding/xml"
)

// Namespace is that of B2MML.
const Namespace = "http://www.mesa.org/xml/B2MML"

// WorkMaster is how a piece of work is done, whatever the order.
type WorkMaster struct {
	ID          string                   `xml:"ID"`
	Version     string                   `xml:"Version,omitempty"`
	Description []string                 `xml:"Description"`
	Duration    string                   `xml:"Duration,omitempty"`
	Parameters  []Parameter              `xml:"ParameterSpecification"`
	Equipment   []EquipmentSpecification `xml:"EquipmentSpecification"`
	Material    []MaterialSpecification  `xml:"MaterialSpecification"`
	Children    []*WorkMaster            `xml:"WorkMasterChild"`
}

// Parameter is a named value.
type Parameter struct {
	ID          string `xml:"ID"`
	Value       Value  `xml:"Value"`
	Description string `xml:"Description,omitempty"`
}

// Value is a value as text, what type it is, and its unit.
type Value struct {
	Text string `xml:"ValueString"`
	Type string `xml:"DataType"`
	Unit *Code  `xml:"UnitOfMeasure"`
}

// Code is a word of a code list.
type Code struct {
	List   string `xml:"listID,attr,omitempty"`
	Agency string `xml:"listAgencyID,attr,omitempty"`
	Word   string `xml:",chardata"`
}

// EquipmentSpecification names the machine.
type EquipmentSpecification struct {
	ID          string   `xml:"ID"`
	EquipmentID string   `xml:"EquipmentID,omitempty"`
	Description []string `xml:"Description"`
}

// MaterialSpecification names the work material.
type MaterialSpecification struct {
	ID           string   `xml:"ID"`
	ClassID      string   `xml:"MaterialClassID,omitempty"`
	DefinitionID string   `xml:"MaterialDefinitionID,omitempty"`
	Description  []string `xml:"Description"`
}

// XML is the work master as a document.
func (m *WorkMaster) XML() ([]byte, error) {
	var b bytes.Buffer
	b.WriteString(xml.Header)
	e := xml.NewEncoder(&b)
	e.Indent("", "  ")
	start := xml.StartElement{Name: xml.Name{Local: "WorkMaster"}, Attr: []xml.Attr{{Name: xml.Name{Local: "xmlns"}, Value: Namespace}}}
	if err := e.EncodeElement(m, start); err != nil {
		return nil, err
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}
