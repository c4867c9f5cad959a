package api

import (
	"net/http"
	"time"

	"swarf/domain"
)

// health is the answer of /healthz: the process runs.
type health struct {
	Status string `json:"status"`
}

// readiness is the answer of /readyz: data is there to answer from.
type readiness struct {
	Status       string     `json:"status"`
	Mode         string     `json:"mode"`
	DataRevision int64      `json:"data_revision"`
	ModelVersion string     `json:"model_version"`
	Degraded     *staleness `json:"degraded,omitempty"`
}

// staleness says how old the data may be and why.
type staleness struct {
	AgeSeconds int64  `json:"age_seconds"`
	Since      string `json:"since"`
	Reason     string `json:"reason"`
}

// version is the answer of /version: what runs.
type version struct {
	Version      string `json:"version"`
	Go           string `json:"go"`
	Commit       string `json:"commit,omitempty"`
	ModelVersion string `json:"model_version"`
	DataRevision int64  `json:"data_revision,omitempty"`
	Mode         string `json:"mode"`
}

// getHealth answers GET /healthz.
func getHealth(x *exchange) error { return x.status(health{"ok"}) }

// getReadiness answers GET /readyz. Without a database that is configured reads go
// on, so the service stays ready and says since when and why its data may be old.
func getReadiness(x *exchange) error {
	snap, err := x.now()
	if err != nil {
		return err
	}
	if x.s.Draining() {
		return fault(domain.Unavailable, "data-not-ready", "", "the service is shutting down", "ask another replica")
	}
	out := readiness{Status: "ready", Mode: x.s.Mode, DataRevision: snap.Revision, ModelVersion: x.s.ModelVersion}
	if x.s.Degraded != nil {
		if d := x.s.Degraded(); d != nil {
			out.Status = "degraded"
			out.Degraded = &staleness{
				AgeSeconds: int64(time.Since(d.Since).Seconds()),
				Since:      d.Since.UTC().Format(time.RFC3339),
				Reason:     d.Reason,
			}
		}
	}
	return x.status(out)
}

// getVersion answers GET /version.
func getVersion(x *exchange) error {
	out := version{Version: x.s.Build.Version, Go: x.s.Build.Go, Commit: x.s.Build.Commit, ModelVersion: x.s.ModelVersion, Mode: x.s.Mode}
	if snap := x.s.Snapshots(); snap != nil {
		x.use(snap)
		out.DataRevision = snap.Revision
	}
	return x.status(out)
}

// status writes an answer about the service, which nobody should keep.
func (x *exchange) status(v any) error {
	x.Response().Header().Set("Cache-Control", "no-store")
	return x.render(http.StatusOK, v)
}
