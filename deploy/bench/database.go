package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/labstack/echo/v4"

	"swarf/api/wire"
)

// drillingPower is the power of a drill by Kienzle's law, kW, as a shop would keep it in
// its database: diameter mm, feed mm, speed m/min, kc1.1 N/mm2, with the exponent 0.25 and
// a point angle of 140 degrees.
const drillingPower = `CREATE OR REPLACE FUNCTION drilling_power(d float8, f float8, vc float8, kc float8) RETURNS float8
LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
SELECT kc * power(f / 2 * sin(radians(70)), -0.25) * d * f / 4 * vc / 60000 $$`

const pgbenchScript = `\set d random(60, 200) / 10.0
\set f random(5, 30) / 100.0
\set vc random(30, 150)
\set kc random(1500, 2500)
SELECT drilling_power(:d, :f, :vc, :kc);
`

var pgbenchSpeed = regexp.MustCompile(`tps = ([0-9.]+)`)

// measureDatabase holds single answers and batches against what else a shop could build: a
// function in the database that gives one bare number, called without HTTP, and a service
// that reads the same ready answer from the database for every request.
func measureDatabase(binary, address string, rounds, connections int, length time.Duration) error {
	ctx := context.Background()
	conn, err := pgx.Connect(ctx, address)
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	swarf, err := startSwarf(binary)
	if err != nil {
		return err
	}
	defer swarf.stop()
	question := questions[0]
	answer, _, err := swarf.post("/v1/estimates", question.body)
	if err != nil {
		return err
	}
	if _, err := conn.Exec(ctx, drillingPower+`; DROP TABLE IF EXISTS ready_answer; CREATE TABLE ready_answer (grade text PRIMARY KEY, body bytea NOT NULL)`); err != nil {
		return err
	}
	if _, err := conn.Exec(ctx, `INSERT INTO ready_answer VALUES ('1.4301', $1)`, answer); err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	queries, err := start(self, "-database", address)
	if err != nil {
		return err
	}
	defer queries.stop()

	var calls, single, many, read, ratioCalls, ratioMany, ratioRead []float64
	body := estimateBatch()
	for i := range rounds + 1 {
		c, err := pgbench(address, connections, length)
		if err != nil {
			return err
		}
		s, err := swarf.load(question.body, connections, length)
		if err != nil {
			return err
		}
		r, err := queries.load(question.body, connections, length)
		if err != nil {
			return err
		}
		_, took, err := swarf.post("/v1/estimates/batch", body)
		if err != nil {
			return err
		}
		if i == 0 {
			continue // all warm up
		}
		m := checkedPairs / took.Seconds()
		calls, single, many, read = append(calls, c), append(single, s.perSecond), append(many, m), append(read, r.perSecond)
		ratioCalls, ratioMany, ratioRead = append(ratioCalls, s.perSecond/c), append(ratioMany, m/c), append(ratioRead, s.perSecond/r.perSecond)
	}
	fmt.Printf("\nagainst a database on the same machine, %d connections, %d rounds in turn\n", connections, rounds)
	fmt.Printf("an SQL function called by pgbench, prepared, four numbers in, one out: %9.0f calls/s\n", median(calls))
	fmt.Printf("Echo with one query of the same ready answer for each request:         %9.0f answers/s\n", median(read))
	fmt.Printf("swarf, a whole answer over HTTP for each request:                      %9.0f answers/s, %.2f of the function's calls, %.2f of Echo's answers\n", median(single), median(ratioCalls), median(ratioRead))
	fmt.Printf("swarf, 10,000 estimates in a batch:                                    %9.0f answers/s, %.2f of the function's calls\n", median(many), median(ratioMany))
	return nil
}

// estimateBatch asks for 10,000 estimates.
func estimateBatch() string {
	var b strings.Builder
	b.WriteString(`{"units":"metric","items":[`)
	for i := range checkedPairs {
		if i > 0 {
			b.WriteByte(',')
		}
		aDrilling(&b, i)
	}
	return b.String() + `]}`
}

// pgbench calls the function for a length of time and returns its calls a second.
func pgbench(address string, connections int, length time.Duration) (float64, error) {
	dir, err := os.MkdirTemp("", "swarf-bench")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(dir)
	script := filepath.Join(dir, "power.sql")
	if err := os.WriteFile(script, []byte(pgbenchScript), 0o600); err != nil {
		return 0, err
	}
	out, err := exec.Command("pgbench", "-n", "-M", "prepared", "-c", strconv.Itoa(connections), "-j", "2", "-T", strconv.Itoa(max(1, int(length.Seconds()))), "-f", script, address).CombinedOutput()
	found := pgbenchSpeed.FindSubmatch(out)
	if err != nil || found == nil {
		return 0, errors.Join(err, fmt.Errorf("pgbench: %s", out))
	}
	return strconv.ParseFloat(string(found[1]), 64)
}

// serveQueries answers estimates with bytes that it reads from the database each time.
func serveQueries(address string) error {
	pool, err := pgxpool.New(context.Background(), address)
	if err != nil {
		return err
	}
	defer pool.Close()
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.POST("/v1/estimates", func(c echo.Context) error {
		var cut wire.Cut
		if err := json.NewDecoder(c.Request().Body).Decode(&cut); err != nil {
			return err
		}
		var answer []byte
		if err := pool.QueryRow(c.Request().Context(), `SELECT body FROM ready_answer WHERE grade = $1`, cut.Material.Grade).Scan(&answer); err != nil {
			return err
		}
		c.Response().Header().Set("Content-Length", strconv.Itoa(len(answer)))
		return c.JSONBlob(http.StatusOK, answer)
	})
	e.GET("/readyz", func(c echo.Context) error { return c.NoContent(http.StatusOK) })
	return serveUntilTold(e)
}
