package api

import (
	"net/http"
	"time"

	"swarf/api/wire"
	"swarf/domain"
)

// getHealth answers GET /healthz.
func getHealth(x *exchange) error { return x.status(wire.Health{Status: "ok"}) }

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
	out := wire.Readiness{Status: "ready", Mode: x.s.Mode, DataRevision: snap.Revision, ModelVersion: x.s.ModelVersion}
	if x.s.Degraded != nil {
		if d := x.s.Degraded(); d != nil {
			out.Status = "degraded"
			out.Degraded = &wire.Staleness{
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
	out := wire.Version{Version: x.s.Build.Version, Go: x.s.Build.Go, Commit: x.s.Build.Commit, ModelVersion: x.s.ModelVersion, Mode: x.s.Mode}
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
