package data

import "swarf/domain/material"

// loadForce arrives with its data files.
func loadForce() ([]material.Force, error) { return nil, nil }
