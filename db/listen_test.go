package db_test

import (
	"context"
	"testing"
	"time"

	"swarf/db"
	"swarf/db/dbtest"
)

// follow listens until the test ends and gives the revisions heard.
func follow(t *testing.T, store *db.DB) <-chan int64 {
	ctx, stop := context.WithCancel(t.Context())
	heard, ended := make(chan int64, 1000), make(chan struct{})
	go func() {
		defer close(ended)
		store.Listen(ctx, func(revision int64) { heard <- revision })
	}()
	t.Cleanup(func() { stop(); <-ended })
	return heard
}

// await waits for a revision.
func await(t *testing.T, heard <-chan int64, want int64, within time.Duration) {
	t.Helper()
	late := time.After(within)
	for {
		select {
		case got := <-heard:
			if got >= want {
				return
			}
		case <-late:
			t.Fatalf("revision %d was not heard within %v", want, within)
		}
	}
}

func TestListenHearsAtOnceAndAfterARestart(t *testing.T) {
	server := dbtest.NewServer(t)
	writer, reader := dbtest.Open(t, server.URL()), dbtest.Open(t, server.URL())
	heard := follow(t, reader)
	await(t, heard, 0, 5*time.Second) // connected
	await(t, heard, put(t, writer, "one").Revision, 3*time.Second)
	server.Stop()
	server.Start()
	two := put(t, writer, "two")
	await(t, heard, two.Revision, 6*time.Second) // a wait of 5 s at most, then at once
	await(t, heard, put(t, writer, "three").Revision, 3*time.Second)
}

// An announcement that nobody heard is made good by the poll.
func TestListenPolls(t *testing.T) {
	address := dbtest.URL(t)
	writer := dbtest.Open(t, address)
	reader, err := db.Open(t.Context(), db.Config{URL: address, PollInterval: 200 * time.Millisecond})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(reader.Close)
	heard := follow(t, reader)
	await(t, heard, 0, 5*time.Second)
	if err := writer.Exec(t.Context(), "UPDATE data_revision SET revision = revision + 1"); err != nil { // without NOTIFY
		t.Fatal(err)
	}
	await(t, heard, 1, 5*time.Second)
}
