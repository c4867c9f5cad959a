package data

import "swarf/domain/material"

// loadHardness arrives with its data files.
func loadHardness() ([]material.HardnessRow, error) { return nil, nil }
