// Package tool describes tool geometry classes and the tools of requests.
// Property codes follow ISO 13399.
package tool

import "swarf/domain/unit"

// Edge is the kind of cutting edge; it chooses the minimum chip.
type Edge string

// The edges.
const (
	Ground Edge = "ground" // solid tools, exchangeable tips
	Honed  Edge = "honed"  // inserts
)

// Materials are the letters of ISO 513 for hard cutting materials, and HSS.
var Materials = []string{
	"HW", "HF", "HT", "HC", "CA", "CM", "CN", "CR", "CC", "DP", "DM", "BL", "BH", "BC", "HSS",
}

// Class is a geometry class: what it does and what it takes for granted.
type Class struct {
	ID         string
	Name       string
	Operations []string
	Properties []Property
	Edge       Edge
	// ToolMaterial is taken when a request names none: ISO 513 letters, or HSS.
	ToolMaterial string
	Note         string
	Revision     int64 // in which the class last changed
}

// Property is one geometry property of a class with its default and allowed range.
type Property struct {
	Name     string // cutting_diameter …
	Code     string // ISO 13399 code: DC …; empty where the standard has none at hand
	Quantity unit.Quantity
	Default  unit.Opt
	Low      unit.Opt
	High     unit.Opt
}

// Does reports whether the class does an operation.
func (c *Class) Does(operation string) bool {
	for _, name := range c.Operations {
		if name == operation {
			return true
		}
	}
	return false
}

// Property finds a property by name.
func (c *Class) Property(name string) (*Property, bool) {
	for i := range c.Properties {
		if c.Properties[i].Name == name {
			return &c.Properties[i], true
		}
	}
	return nil, false
}
