package data

import "swarf/domain"

// loadSources reads sources.csv: one row per source that a shipped number uses.
func loadSources() ([]domain.Source, error) {
	t, err := ReadTable(files, "sources.csv", "id", "author", "title", "year", "place", "address", "kind", "access", "note", "reviewed")
	if err != nil {
		return nil, err
	}
	sources := make([]domain.Source, 0, len(t.Rows))
	for _, r := range t.Rows {
		sources = append(sources, domain.Source{
			ID:       r.Unique("id"),
			Author:   r.Text("author"),
			Title:    r.Need("title"),
			Year:     r.Text("year"),
			Place:    r.Text("place"),
			Address:  r.Text("address"),
			Kind:     r.Need("kind"),
			Access:   r.Need("access"),
			Note:     r.Text("note"),
			Reviewed: r.Date("reviewed"),
			Revision: 1,
		})
	}
	return sources, t.Err()
}
