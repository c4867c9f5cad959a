package db_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
)

func claimOf(key string) db.Claim {
	return db.Claim{Caller: "c", Key: key, Fingerprint: [32]byte{1}, Keep: time.Hour}
}

// writing is what a request does: it stores a machine and answers.
func writing(t *testing.T, store *db.DB, id string, answer db.Answer) func(context.Context) (db.Answer, error) {
	return func(ctx context.Context) (db.Answer, error) {
		if _, err := store.PutMachine(ctx, shopMachine(id), db.Write{Who: "ann", Person: "bob"}); err != nil {
			t.Errorf("%s: %v", id, err)
		}
		return answer, nil
	}
}

var made = db.Answer{Status: 201, Header: map[string]string{"Etag": `"x"`}, Body: []byte(`{"id":"m"}`)}

func count(t *testing.T, store *db.DB, from string) int64 {
	t.Helper()
	return query[int64](t, store, `SELECT count(*) FROM `+from)[0]
}

// The first request has its effect, the second its answer; the history knows who and whom
// they named.
func TestOnce(t *testing.T) {
	store := dbtest.New(t)
	for i := range 3 {
		answer, replayed, err := store.Once(t.Context(), claimOf("k"), writing(t, store, "m", made))
		if err != nil || replayed != (i > 0) || answer.Status != 201 || !bytes.Equal(answer.Body, made.Body) || answer.Header["Etag"] != `"x"` {
			t.Errorf("%d: %+v %v %v", i, answer, replayed, err)
		}
	}
	other := claimOf("k")
	other.Fingerprint[0] = 2
	_, _, err := store.Once(t.Context(), other, writing(t, store, "n", made))
	fault(t, err, domain.Invalid, "idempotency-key-reused")
	stranger := claimOf("k")
	stranger.Caller = "d"
	if _, replayed, err := store.Once(t.Context(), stranger, writing(t, store, "o", made)); err != nil || replayed {
		t.Errorf("another caller's key: %v %v", replayed, err)
	}
	if n := count(t, store, "machine"); n != 2 {
		t.Errorf("%d machines", n)
	}
	list, err := store.Changes(t.Context(), db.ChangesQuery{})
	if err != nil || len(list) != 2 || list[0].Who != "ann" || list[0].Person != "bob" {
		t.Errorf("%+v %v", list, err)
	}
}

// What did not succeed is undone: a fault of the caller's is repeated to him, one of ours is
// forgotten, and so is a crash in the middle.
func TestOnceUndoes(t *testing.T) {
	store := dbtest.New(t)
	for _, c := range []struct {
		status int
		kept   bool
	}{{422, true}, {409, true}, {500, false}, {503, false}} {
		key := fmt.Sprint(c.status)
		for i := range 2 {
			answer, replayed, err := store.Once(t.Context(), claimOf(key), writing(t, store, "m"+key, db.Answer{Status: c.status, Header: map[string]string{}}))
			if err != nil || answer.Status != c.status || replayed != (c.kept && i > 0) {
				t.Errorf("%d, time %d: %+v %v %v", c.status, i, answer, replayed, err)
			}
		}
	}
	for range 2 {
		if _, replayed, err := store.Once(t.Context(), claimOf("passing"), writing(t, store, "p", db.Answer{Status: 409, Header: map[string]string{}, Forget: true})); err != nil || replayed {
			t.Errorf("a fault to be forgotten: %v %v", replayed, err)
		}
	}
	lost := errors.New("lost")
	if _, _, err := store.Once(t.Context(), claimOf("crash"), func(ctx context.Context) (db.Answer, error) {
		writing(t, store, "crash", made)(ctx)
		return db.Answer{}, lost
	}); err == nil {
		t.Error("no error")
	}
	if n := count(t, store, "machine"); n != 0 {
		t.Errorf("%d machines of requests that failed", n)
	}
	if n := count(t, store, "kept_answer"); n != 2 {
		t.Errorf("%d answers kept, want the two faults of callers", n)
	}
	if _, replayed, err := store.Once(t.Context(), claimOf("crash"), writing(t, store, "crash", made)); err != nil || replayed {
		t.Errorf("after the crash: %v %v", replayed, err)
	}
}

// While the first is at work, a second is told so at once, and does nothing.
func TestOnceAtATime(t *testing.T) {
	store := dbtest.New(t)
	_, _, err := store.Once(t.Context(), claimOf("k"), func(context.Context) (db.Answer, error) {
		began := time.Now()
		_, _, err := store.Once(t.Context(), claimOf("k"), writing(t, store, "m", made))
		fault(t, err, domain.Conflict, "idempotency-key-busy")
		if waited := time.Since(began); waited > 2*time.Second {
			t.Errorf("told after %v", waited)
		}
		return made, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n := count(t, store, "machine"); n != 0 {
		t.Error("the second had an effect")
	}
}

// Answers whose time is over give way, and are removed.
func TestAnswersExpire(t *testing.T) {
	store := dbtest.New(t)
	short := claimOf("k")
	short.Keep = time.Millisecond
	for i := range 2 {
		if _, replayed, err := store.Once(t.Context(), short, writing(t, store, fmt.Sprint("m", i), made)); err != nil || replayed {
			t.Errorf("%d: %v %v", i, replayed, err)
		}
		time.Sleep(5 * time.Millisecond)
	}
	if err := store.ForgetAnswers(t.Context(), time.Hour); err != nil || count(t, store, "kept_answer") != 1 {
		t.Errorf("%v, a fresh answer was forgotten", err)
	}
	if err := store.ForgetAnswers(t.Context(), time.Millisecond); err != nil || count(t, store, "kept_answer") != 0 {
		t.Errorf("%v, an old answer is kept", err)
	}
}

// The write and its answer are kept together: where the answer cannot be, nor is the write,
// which would otherwise have its effect again when the request is repeated.
func TestTheAnswerIsKeptWithTheWrite(t *testing.T) {
	store := dbtest.New(t)
	if _, _, err := store.Once(t.Context(), claimOf(strings.Repeat("k", 256)), writing(t, store, "m", made)); err == nil {
		t.Error("an answer that cannot be kept is acknowledged")
	}
	if machines, answers := count(t, store, "machine"), count(t, store, "kept_answer"); machines != 0 || answers != 0 {
		t.Errorf("%d machines, %d answers", machines, answers)
	}
}
