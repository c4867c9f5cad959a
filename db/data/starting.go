package data

import "swarf/domain/material"

// loadStarting arrives with its data files.
func loadStarting() ([]material.Starting, error) { return nil, nil }
