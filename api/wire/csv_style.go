package wire

// CSVStyle is how a spreadsheet of some country wants its CSV; the zero value is that of
// RFC 4180 with a decimal point. A decimal comma goes with a separator that is none.
type CSVStyle struct {
	Separator byte // between cells; 0 is a comma, or a semicolon with decimal commas
	Comma     bool // numbers have a decimal comma
	Mark      bool // a byte order mark goes before, by which UTF-8 is known
}

func (s CSVStyle) separator() byte {
	switch {
	case s.Separator != 0:
		return s.Separator
	case s.Comma:
		return ';'
	}
	return ','
}
