package mtconnect

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Bounds of a document, beyond its size in bytes.
const (
	deepest      = 16
	mostElements = 5_000
	mostOnOne    = 50 // attributes
)

// Parse reads the one cutting tool of a document: the asset itself, or the document around
// assets that an agent answers with. Nothing of it may lead outside or grow: document types
// and entities of its own are refused, and so is what is too deep or too much. An error says
// what is wrong and where.
func Parse(document []byte) (*CuttingTool, error) {
	at, count, err := survey(document)
	switch {
	case err != nil:
		return nil, err
	case count == 0:
		return nil, errors.New("there is no CuttingTool in it")
	case count > 1:
		return nil, fmt.Errorf("there are %d cutting tools in it; send one at a time", count)
	}
	var t CuttingTool
	d := xml.NewDecoder(bytes.NewReader(document[at:]))
	if err := d.Decode(&t); err != nil {
		return nil, err
	}
	return &t, nil
}

// survey walks over the document: where its cutting tool begins, and how many there are.
func survey(document []byte) (at int64, count int, err error) {
	d := xml.NewDecoder(bytes.NewReader(document))
	depth, elements := 0, 0
	for {
		before := d.InputOffset()
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			if elements == 0 {
				return 0, 0, errors.New("it is empty")
			}
			return at, count, nil
		}
		if err != nil {
			return 0, 0, err
		}
		line, _ := d.InputPos()
		switch token := token.(type) {
		case xml.Directive:
			return 0, 0, fmt.Errorf("line %d has a document type or an entity of its own, which is not read", line)
		case xml.EndElement:
			depth--
		case xml.StartElement:
			if depth == 0 && elements > 0 {
				return 0, 0, fmt.Errorf("line %d begins a second document", line)
			}
			depth++
			elements++
			switch {
			case depth > deepest:
				return 0, 0, fmt.Errorf("line %d is more than %d elements deep", line, deepest)
			case elements > mostElements:
				return 0, 0, fmt.Errorf("it has more than %d elements", mostElements)
			case len(token.Attr) > mostOnOne:
				return 0, 0, fmt.Errorf("line %d has an element with more than %d attributes", line, mostOnOne)
			}
			if isAsset(token.Name) {
				count++
				at = before
			}
		}
	}
}

// isAsset reports a cutting tool of any version of the standard, or without its namespace.
func isAsset(name xml.Name) bool {
	return name.Local == "CuttingTool" && (name.Space == "" || strings.HasPrefix(name.Space, "urn:mtconnect.org:MTConnectAssets:"))
}
