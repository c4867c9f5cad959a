package wire

// Health is the answer of /healthz: the process runs.
type Health struct {
	Status string `json:"status"`
}

// Readiness is the answer of /readyz: data is there to answer from.
type Readiness struct {
	Status       string     `json:"status"`
	Mode         string     `json:"mode"`
	DataRevision int64      `json:"data_revision"`
	ModelVersion string     `json:"model_version"`
	Degraded     *Staleness `json:"degraded,omitempty"`
}

// Staleness says how old the data may be and why.
type Staleness struct {
	AgeSeconds int64  `json:"age_seconds"`
	Since      string `json:"since"`
	Reason     string `json:"reason"`
}

// Version is the answer of /version: what runs.
type Version struct {
	Version      string `json:"version"`
	Go           string `json:"go"`
	Commit       string `json:"commit,omitempty"`
	ModelVersion string `json:"model_version"`
	DataRevision int64  `json:"data_revision,omitempty"`
	Mode         string `json:"mode"`
}
