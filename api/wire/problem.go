package wire

// Problem is an RFC 9457 problem document.
type Problem struct {
	Type      string  `json:"type"`
	Title     string  `json:"title"`
	Status    int     `json:"status"`
	Detail    string  `json:"detail"`
	Instance  string  `json:"instance,omitempty"`
	Code      string  `json:"code"`
	RequestID string  `json:"request_id,omitempty"`
	Ref       string  `json:"ref,omitempty"`
	Faults    []Fault `json:"faults"`
	// Candidates of an ambiguous designation.
	Candidates []Candidate `json:"candidates,omitempty"`
	// Report of an import that was refused.
	Report *ImportReport `json:"report,omitempty"`
}

// Fault is one fault of a request.
type Fault struct {
	Field   string `json:"field,omitempty"`
	Code    string `json:"code"`
	Message string `json:"message"`
	Fix     string `json:"fix,omitempty"`
}

// Candidate is a grade that an ambiguous designation could mean.
type Candidate struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Group string `json:"group"`
}
