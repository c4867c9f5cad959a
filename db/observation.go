package db

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/domain/evidence"
)

var observationColumns = []string{"at", "who", "kind", "state", "reasons", "material_id", "process", "tool_material", "machine_id", "lot", "edge", "record_id",
	"force_exp", "thickness_exp", "wear_ratio", "expected_ratio", "speed_m_per_min", "feed_mm", "depth_mm", "minutes", "failed", "document"}

// AddObservations keeps observations in one transaction, all or none, and returns the
// number of the first; the others follow it in order.
//
// Errors: Unavailable.
func (db *DB) AddObservations(ctx context.Context, list []evidence.Kept) (first int64, err error) {
	if len(list) == 0 {
		return 0, nil
	}
	err = db.inTimedTx(ctx, db.config.LoadTimeout, pgx.TxOptions{}, func(tx pgx.Tx) error {
		if err := db.keeps(ctx, tx); err != nil {
			return err
		}
		// The numbers of one transaction follow one another because no other takes any
		// meanwhile.
		if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock($1)`, observationLock); err != nil {
			return err
		}
		if _, err := tx.CopyFrom(ctx, pgx.Identifier{"observation"}, observationColumns, pgx.CopyFromSlice(len(list), func(i int) ([]any, error) { return observationRow(&list[i]), nil })); err != nil {
			return err
		}
		var received time.Time
		err := tx.QueryRow(ctx, `SELECT id, received FROM observation WHERE id = currval(pg_get_serial_sequence('observation', 'id')) - $1 + 1`, len(list)).Scan(&first, &received)
		note(tx, receipt{kind: "observation", number: first, more: len(list) - 1, at: received})
		return err
	})
	return first, err
}

// observationLock keeps writers of observations in line, apart from those of records.
const observationLock = 7_243_915_002

func observationRow(k *evidence.Kept) []any {
	reasons := make([]string, len(k.Doubts))
	for i, d := range k.Doubts {
		reasons[i] = d.Code
	}
	var force, thickness, wear, expected, speed, feed, depth, minutes any
	failed := false
	if s := k.Seen; s != nil {
		force, thickness, wear = s.ForceExp, s.ThicknessExp, s.WearRatio
		if s.OfExpectedRatio > 0 {
			expected = s.OfExpectedRatio
		}
	}
	if e := k.Ended; e != nil {
		speed, feed, depth, minutes, failed = e.SpeedMPerMin, e.FeedMM, e.DepthMM, e.Minutes, e.Failed
	}
	return []any{k.At, k.Who, k.Kind, k.State(), reasons, k.Material, k.Process, k.ToolMaterial, k.Machine, k.Lot, k.Edge, k.Record,
		force, thickness, wear, expected, speed, feed, depth, minutes, failed, string(k.Document)}
}

// ObservationsQuery asks for observations after a number, oldest first; empty texts ask
// for all.
type ObservationsQuery struct {
	After                          int64
	Limit                          int
	Kind, State, Material, Machine string
}

// Observations reads what was observed.
//
// Errors: Unavailable.
func (db *DB) Observations(ctx context.Context, q ObservationsQuery) ([]evidence.Kept, error) {
	var list []evidence.Kept
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		result, err := tx.Query(ctx, `
			SELECT id, received, at, who, kind, state, reasons, material_id, process, tool_material, machine_id, lot, edge, record_id, document::text
			FROM observation
			WHERE id > $1 AND ($2 = '' OR kind = $2) AND ($3 = '' OR state = $3) AND ($4 = '' OR material_id = $4) AND ($5 = '' OR machine_id = $5)
			ORDER BY id LIMIT $6`, q.After, q.Kind, q.State, q.Material, q.Machine, q.Limit)
		if err != nil {
			return err
		}
		var k evidence.Kept
		var received time.Time
		var state string
		var reasons []string
		var document []byte
		_, err = pgx.ForEachRow(result, []any{&k.ID, &received, &k.At, &k.Who, &k.Kind, &state, &reasons, &k.Material, &k.Process, &k.ToolMaterial, &k.Machine, &k.Lot, &k.Edge, &k.Record, &document}, func() error {
			one := k
			one.Received, one.SetAside, one.Document = Stamp(received), state == "set-aside", append([]byte(nil), document...)
			for _, r := range reasons {
				one.Doubts = append(one.Doubts, evidence.Doubt{Code: r})
			}
			list = append(list, one)
			return nil
		})
		return err
	})
	return list, err
}

// ForcePoints reads the accepted loads of a metal in a process, and those of other metals on
// the same machines, which tell the meters apart from it; the newest of each, up to a most.
//
// Errors: Unavailable.
func (db *DB) ForcePoints(ctx context.Context, material, process string, most int) ([]evidence.ForcePoint, error) {
	var list []evidence.ForcePoint
	err := db.inTimedTx(ctx, db.config.LoadTimeout, reading, func(tx pgx.Tx) error {
		result, err := tx.Query(ctx, `
			WITH own AS (
				SELECT * FROM observation WHERE material_id = $1 AND process = $2 AND kind = 'load' AND state = 'accepted' ORDER BY id DESC LIMIT $3
			), other AS (
				SELECT * FROM observation WHERE machine_id IN (SELECT DISTINCT machine_id FROM own) AND (material_id, process) <> ($1, $2)
					AND kind = 'load' AND state = 'accepted' ORDER BY id DESC LIMIT $3
			)
			SELECT material_id || '|' || process, machine_id, lot, edge, force_exp, thickness_exp, wear_ratio FROM own
			UNION ALL SELECT material_id || '|' || process, machine_id, lot, edge, force_exp, thickness_exp, wear_ratio FROM other`, material, process, most)
		if err != nil {
			return err
		}
		var p evidence.ForcePoint
		_, err = pgx.ForEachRow(result, []any{&p.Material, &p.Machine, &p.Lot, &p.Edge, &p.ForceExp, &p.ThicknessExp, &p.WearRatio}, func() error {
			list = append(list, p)
			return nil
		})
		return err
	})
	return list, err
}

// LifePoints reads the accepted edges of a metal in a process with a tool material.
//
// Errors: Unavailable.
func (db *DB) LifePoints(ctx context.Context, material, process, toolMaterial string, most int) ([]evidence.LifePoint, error) {
	var list []evidence.LifePoint
	err := db.inTimedTx(ctx, db.config.LoadTimeout, reading, func(tx pgx.Tx) error {
		result, err := tx.Query(ctx, `SELECT lot, machine_id, speed_m_per_min, feed_mm, depth_mm, minutes, failed FROM observation
			WHERE material_id = $1 AND process = $2 AND tool_material = $3 AND kind = 'edge' AND state = 'accepted' ORDER BY id DESC LIMIT $4`, material, process, toolMaterial, most)
		if err != nil {
			return err
		}
		var p evidence.LifePoint
		_, err = pgx.ForEachRow(result, []any{&p.Lot, &p.Machine, &p.SpeedMPerMin, &p.FeedMM, &p.DepthMM, &p.Minutes, &p.Failed}, func() error {
			list = append(list, p)
			return nil
		})
		return err
	})
	return list, err
}

// watchDrift is how far off, and from how many readings on, a record in force is marked.
const (
	driftRatio  = 1.15
	leastDrifts = 5
)

// KeepWatch marks records in force whose loads, measured since, lie more than 15 % off what
// they made expect, and takes the mark off those that no longer do. It reports how many
// changed.
//
// Errors: Unavailable.
func (db *DB) KeepWatch(ctx context.Context) (changed int, err error) {
	type drift struct {
		ID    string
		Ratio *float64
	}
	const look = `
		SELECT c.record_id, CASE WHEN greatest(o.ratio, 1 / o.ratio) > $1 THEN round(o.ratio::numeric, 2)::double precision END
		FROM curation AS c CROSS JOIN LATERAL (
			SELECT exp(percentile_cont(0.5) WITHIN GROUP (ORDER BY ln(expected_ratio))) AS ratio
			FROM observation WHERE record_id = c.record_id AND state = 'accepted' AND kind = 'load' AND expected_ratio IS NOT NULL AND received > c.valid_from::timestamptz
			HAVING count(*) >= $2
		) AS o
		WHERE c.in_force AND c.record_kind = 'force'
			AND c.drift_ratio IS DISTINCT FROM CASE WHEN greatest(o.ratio, 1 / o.ratio) > $1 THEN round(o.ratio::numeric, 2)::double precision END`
	read := func(tx pgx.Tx) ([]drift, error) {
		result, err := tx.Query(ctx, look, driftRatio, leastDrifts)
		if err != nil {
			return nil, err
		}
		return pgx.CollectRows(result, pgx.RowToStructByPos[drift])
	}
	var found []drift
	err = db.inTx(ctx, reading, func(tx pgx.Tx) error { found, err = read(tx); return err })
	if err != nil || len(found) == 0 {
		return 0, err
	}
	err = db.inWrite(ctx, db.config.TransactionTimeout, Write{Who: "swarf", Reason: "measured loads against the record"}, func(tx pgx.Tx) error {
		if found, err = read(tx); err != nil {
			return err
		}
		for _, d := range found {
			if _, err := tx.Exec(ctx, `UPDATE curation SET drift_ratio = $2 WHERE record_id = $1`, d.ID, d.Ratio); err != nil {
				return err
			}
		}
		changed = len(found)
		return nil
	})
	return changed, err
}
