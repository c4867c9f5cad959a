package wire

// Amount is a computed number that is already in the caller's units, because its
// unit stands beside it. The encoder only rounds it.
type Amount float64
