package db

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// Change is what one revision did to one noun, with everything that belongs to it.
type Change struct {
	Revision int64
	At       time.Time // UTC
	Who      string
	Person   string // whom the caller named beside its key
	Kind     string // machine, material, source, tool-class, record
	ID       string
	Action   string // added, changed, removed
	Reason   string
}

// ChangesQuery asks for the changes after a place in the feed, oldest first. The
// place is a revision, or with Kind and ID a change within it: the last one of the
// page before. Skip leaves out that many more; since the feed only grows at its end,
// counting is as safe as naming the place, only slower.
type ChangesQuery struct {
	After int64
	Kind  string
	ID    string
	Skip  int
	Limit int // 50 when it is not positive
}

// Changes reads the change feed.
//
// Errors: Unavailable.
func (db *DB) Changes(ctx context.Context, query ChangesQuery) ([]Change, error) {
	if query.Limit <= 0 {
		query.Limit = 50
	}
	from := query.After
	if query.Kind == "" {
		from++ // the whole of the revision has been seen
	}
	var list []Change
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		// The noun's own row says whether the noun came or went: it was there before
		// unless its first change added it, and is there now unless the last removed it.
		result, err := tx.Query(ctx, `
			SELECT revision, at, who, person, kind, id,
				CASE
					WHEN last = 'removed' THEN 'removed'
					WHEN first = 'added' THEN 'added'
					ELSE 'changed'
				END AS action, reason
			FROM (
				SELECT revision, kind COLLATE "C" AS kind, id COLLATE "C" AS id, min(at) AS at,
					(array_agg(who ORDER BY sequence))[1] AS who,
					(array_agg(person ORDER BY sequence))[1] AS person,
					(array_agg(reason ORDER BY sequence))[1] AS reason,
					(array_agg(action ORDER BY sequence) FILTER (WHERE own))[1] AS first,
					(array_agg(action ORDER BY sequence DESC) FILTER (WHERE own))[1] AS last
				FROM (
					SELECT *, table_name IN ('source', 'material', 'tool_class', 'machine',
						'force_record', 'starting_record', 'life_record') AS own
					FROM changes WHERE revision >= $1
				) AS row
				GROUP BY revision, kind, id
			) AS noun
			WHERE (revision, kind, id) > ($1, $2 COLLATE "C", $3 COLLATE "C")
			ORDER BY revision, kind, id
			LIMIT $4 OFFSET $5`, from, query.Kind, query.ID, query.Limit, max(query.Skip, 0))
		if err != nil {
			return err
		}
		list, err = pgx.CollectRows(result, pgx.RowToStructByName[Change])
		return err
	})
	for i := range list {
		list[i].At = list[i].At.UTC()
	}
	return list, err
}
