package wire

// Raw is a JSON value that is kept as it was sent: an item of a batch, which is
// read on its own so that a bad one fails alone.
type Raw string
