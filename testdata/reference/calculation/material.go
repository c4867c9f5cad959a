package calculation

import (
	"sync"

	"swarf/db/data"
	"swarf/domain/material"
)

// metals are the calculations of package material, on the conversion table that ships.
type metals struct{ *given }

var hardnessTable = sync.OnceValues(func() (*material.HardnessTable, error) {
	embedded, err := data.Embedded()
	if err != nil {
		return nil, err
	}
	return material.NewHardnessTable(embedded.Hardness)
})

func (m metals) vickersAs(scale material.Scale) float64 {
	table, err := hardnessTable()
	if err != nil {
		return m.failed(err)
	}
	value, err := table.To(material.Hardness{Value: m.in("hardness", "HV"), Scale: material.HV}, scale)
	if err != nil {
		return m.failed(err)
	}
	return value
}

var metalTable = table[metals]{
	"brinell_of_vickers":    {"HBW", func(m metals) float64 { return m.vickersAs(material.HBW) }},
	"rockwell_c_of_vickers": {"HRC", func(m metals) float64 { return m.vickersAs(material.HRC) }},
}
