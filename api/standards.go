package api

import (
	"net/http"
	"time"

	"swarf/api/b2mml"
	"swarf/api/mtconnect"
	"swarf/api/wire"
	"swarf/domain"
)

// workMaster writes an answer as a work master. A cut that must not run has none.
func (x *exchange) workMaster(answer any) error {
	var m *b2mml.WorkMaster
	var err error
	switch a := answer.(type) {
	case *wire.Answer:
		if a.Verdict == string(domain.No) {
			return notToRun("cut")
		}
		m, err = b2mml.OfAnswer(a, x.fields, x.system)
	case *wire.Plan:
		if a.Verdict == string(domain.No) {
			return notToRun("routing")
		}
		m, err = b2mml.OfPlan(a, x.fields, x.system)
	}
	if err != nil {
		return err
	}
	body, err := m.XML()
	if err != nil {
		return err
	}
	return x.send(http.StatusOK, x.format.contentType(), body)
}

// notToRun refuses to hand a machine or an MES what must not run.
func notToRun(what string) error {
	return fault(domain.Invalid, "not-acceptable", "format", "the "+what+" is refused, and what must not run has no such document", "ask for JSON: its findings say why")
}

// asset writes a cutting tool asset.
func (x *exchange) asset(t *mtconnect.CuttingTool) error {
	t.Timestamp = x.started.UTC().Format(time.RFC3339)
	body, err := t.XML()
	if err != nil {
		return err
	}
	return x.send(http.StatusOK, x.format.contentType(), body)
}
