package api

import (
	"archive/zip"
	"bytes"
	"io"
	"net/http"
	"strconv"

	"swarf/api/tabular"
	"swarf/domain/unit"
)

// exportAll answers GET /v1/exports: the whole catalogue, as a workbook, as CSV files in a
// ZIP archive, or as lines of JSON.
func exportAll(x *exchange) error {
	snap, err := x.now()
	if err != nil {
		return err
	}
	if x.unchanged("all", snap.Revision) {
		return nil
	}
	tables := make([]tabular.Table, len(catalogSheets))
	for i := range catalogSheets {
		tables[i] = catalogSheets[i].table(snap, x.system)
	}
	name := "swarf-catalogue-" + strconv.FormatInt(snap.Revision, 10)
	switch x.format {
	case formatXLSX:
		x.attach(name + ".xlsx")
		return x.sendWorkbook(append(tables, aboutTable(snap.Revision, x.s.ModelVersion, x.system)))
	case formatZIP:
		x.attach(name + ".zip")
		return x.sendArchive(tables)
	}
	return x.stream(func(to io.Writer) error {
		about := aboutTable(snap.Revision, x.s.ModelVersion, x.system)
		for _, t := range append([]tabular.Table{about}, tables...) {
			if err := tabular.WriteLines(to, &t); err != nil {
				return err
			}
		}
		return nil
	})
}

// exportOne answers GET /v1/exports/{id}: one table.
func exportOne(x *exchange) error {
	name, err := x.pathValue("id")
	if err != nil {
		return err
	}
	s, err := sheetNamed(name)
	if err != nil {
		return err
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	if x.unchanged(name, snap.Revision) {
		return nil
	}
	t := s.table(snap, x.system)
	return x.sendTable(&t)
}

// aboutTable says of which state a catalogue is.
func aboutTable(revision int64, model string, system unit.System) tabular.Table {
	return tabular.Table{Name: "about", Headings: []string{"data_revision", "model_version", "units"},
		Rows: func(yield func([]any) bool) { yield([]any{float64(revision), model, system.String()}) }}
}

// unchanged sets the tag of an export and answers a caller whose copy is still good. The
// tag follows from the state of the data, so that the answer need not be made to know it.
func (x *exchange) unchanged(what string, revision int64) bool {
	h := x.Response().Header()
	tag := etag(x.format.contentType(), []byte(what+"|"+strconv.FormatInt(revision, 10)+"|"+x.s.ModelVersion+"|"+x.system.String()+"|"+x.style.String()+"|"+x.s.Build.Version+x.s.Build.Commit))
	h.Set("ETag", tag)
	h.Set("Cache-Control", "no-cache")
	if notModified(x.Request(), tag) {
		x.Response().WriteHeader(http.StatusNotModified)
		return true
	}
	return false
}

// attach names the file that a browser keeps.
func (x *exchange) attach(name string) {
	x.Response().Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
}

// stream writes an answer as it comes; HEAD gets its headers.
func (x *exchange) stream(write func(io.Writer) error) error {
	x.takeTime(importTimeout)
	w := x.Response()
	w.Header().Set("Content-Type", x.format.contentType())
	w.WriteHeader(http.StatusOK)
	if x.Request().Method == http.MethodHead {
		return nil
	}
	return write(w)
}

// sendTable writes one table as CSV or as lines.
func (x *exchange) sendTable(t *tabular.Table) error {
	x.attach(t.Name + "." + x.format.String())
	return x.stream(func(to io.Writer) error {
		if x.format == formatLines {
			return tabular.WriteLines(to, t)
		}
		return tabular.WriteCSV(to, t, x.style.table())
	})
}

func (x *exchange) sendWorkbook(tables []tabular.Table) error {
	var book bytes.Buffer
	if err := tabular.WriteXLSX(&book, tables); err != nil {
		return err
	}
	return x.send(http.StatusOK, x.format.contentType(), book.Bytes())
}

func (x *exchange) sendArchive(tables []tabular.Table) error {
	return x.stream(func(to io.Writer) error {
		archive := zip.NewWriter(to)
		for i := range tables {
			part, err := archive.Create(tables[i].Name + ".csv")
			if err != nil {
				return err
			}
			if err := tabular.WriteCSV(part, &tables[i], tabular.Style{}); err != nil {
				return err
			}
		}
		return archive.Close()
	})
}
