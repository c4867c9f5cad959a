package db

import (
	"context"
	"errors"
	"sync"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5/pgconn"

	"swarf/domain"
)

// How often the server is asked for a sign of life.
const (
	idleBeat = time.Second            // while nothing waits for it
	busyBeat = 100 * time.Millisecond // while a transaction is under way
	awayBeat = 200 * time.Millisecond // while it gives none
	soonest  = time.Second            // in which a connection for it must come about
)

// pulse is whether the server lives. While it does not, whoever needs it is told at once
// instead of waiting, and whoever waits for it already is told too.
type pulse struct {
	underWay atomic.Int64  // transactions
	begun    chan struct{} // holds one token: one has begun

	mu    sync.Mutex
	fault error           // why it gives no sign; nil while it does, or when nobody watches
	alive context.Context // ends with the fault as its cause
	lose  context.CancelCauseFunc
	back  chan struct{} // closed when it is there again
}

func newPulse() *pulse {
	p := &pulse{begun: make(chan struct{}, 1), back: make(chan struct{})}
	p.alive, p.lose = context.WithCancelCause(context.Background())
	return p
}

// set notes how a beat went, and reports whether the server has just been lost.
func (p *pulse) set(fault error) (lost bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	before := p.fault
	p.fault = fault
	switch {
	case fault != nil && before == nil:
		p.lose(fault)
		return true
	case fault == nil && before != nil:
		p.alive, p.lose = context.WithCancelCause(context.Background())
		close(p.back)
		p.back = make(chan struct{})
	}
	return false
}

// with makes a context that ends when the server is lost. While it is lost, that is the
// error.
//
// Errors: Unavailable.
func (p *pulse) with(ctx context.Context) (context.Context, func(), error) {
	p.mu.Lock()
	alive, fault := p.alive, p.fault
	p.mu.Unlock()
	if fault != nil {
		return ctx, nil, fault
	}
	ctx, cancel := context.WithCancelCause(ctx)
	stop := context.AfterFunc(alive, func() { cancel(context.Cause(alive)) })
	return ctx, func() { stop(); cancel(nil) }, nil
}

// busy is with for a transaction: while one is under way, beats come closer together.
func (p *pulse) busy(ctx context.Context) (context.Context, func(), error) {
	ctx, done, err := p.with(ctx)
	if err != nil {
		return ctx, nil, err
	}
	p.underWay.Add(1)
	select {
	case p.begun <- struct{}{}:
	default:
	}
	return ctx, func() { p.underWay.Add(-1); done() }, nil
}

// returned is closed when a lost server is there again.
func (p *pulse) returned() <-chan struct{} {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.back
}

// cut explains an error by the loss of the server, where that was the reason.
func cut(ctx context.Context, err error) error {
	var fault, said *domain.Error
	if err == nil || errors.As(err, &said) || !errors.As(context.Cause(ctx), &fault) {
		return err
	}
	return &domain.Error{Kind: domain.Unavailable, Code: notReady, Msg: brokeOff, Fix: tryAgain, Err: errors.Join(fault, err)}
}

// Watch asks the server for a sign of life until its context ends, on a connection of its
// own, and tells of each; nil is a good one. While there is none, uses of the database
// fail at once, and those under way are broken off: so nobody waits longer than
// Config.Patience and a tenth of a second for a server that is gone. Without Watch they
// wait as long as their own limits allow.
//
// With several hosts in the address it looks at all of them, so that a primary that was
// deposed is left as soon as its successor shows. What was acknowledged here, and the
// successor has not got, is named in the log.
func (db *DB) Watch(ctx context.Context, told func(error)) {
	var around sync.WaitGroup
	around.Go(func() { db.lookAround(ctx) })
	around.Go(func() { db.reckon(ctx) })
	defer around.Wait()
	var conn *pgconn.PgConn
	defer func() { hangUp(conn) }()
	for ctx.Err() == nil {
		began := time.Now()
		var err error
		if conn, err = db.beat(ctx, conn); ctx.Err() != nil {
			return
		}
		err = translate(err)
		if db.pulse.set(err) {
			db.config.Logger.WarnContext(ctx, "the database gives no sign of life", "error", err)
			db.pool.Reset()
		}
		told(err)
		db.pulse.rest(ctx, began, err != nil)
	}
}

// beat asks for one sign of life, and connects where there is no connection.
func (db *DB) beat(ctx context.Context, conn *pgconn.PgConn) (*pgconn.PgConn, error) {
	if conn == nil || conn.IsClosed() {
		settings, err := db.config.conn(db.fence)
		if err != nil {
			return nil, err
		}
		settings.ConnectTimeout = min(settings.ConnectTimeout, soonest)
		return pgconn.ConnectConfig(ctx, &settings.Config)
	}
	ctx, cancel := context.WithTimeout(ctx, db.config.Patience)
	defer cancel()
	now, err := identify(ctx, conn)
	if err == nil {
		err = db.fence.pass(now)
	}
	if err != nil {
		hangUp(conn)
		return nil, err
	}
	return conn, nil
}

// rest waits for the next beat.
func (p *pulse) rest(ctx context.Context, began time.Time, away bool) {
	pause := idleBeat
	switch {
	case away:
		pause = awayBeat
	case p.underWay.Load() > 0:
		pause = busyBeat
	}
	select {
	case <-ctx.Done():
	case <-time.After(pause):
	case <-p.begun:
		select {
		case <-ctx.Done():
		case <-time.After(busyBeat - time.Since(began)):
		}
	}
}

// lookAround asks every host of the address what it is, again and again: a connection that
// works says nothing about a standby that has been promoted elsewhere.
func (db *DB) lookAround(ctx context.Context) {
	settings, err := db.config.conn(nil)
	if err != nil {
		return // as Open has said
	}
	type place struct {
		host string
		port uint16
	}
	seen := map[place]bool{{settings.Host, settings.Port}: true}
	each := []*pgconn.Config{settings.Config.Copy()}
	for _, f := range settings.Fallbacks {
		if at := (place{f.Host, f.Port}); !seen[at] { // not the same without TLS
			seen[at] = true
			one := settings.Config.Copy()
			one.Host, one.Port, one.TLSConfig = f.Host, f.Port, f.TLSConfig
			each = append(each, one)
		}
	}
	if len(each) == 1 {
		return
	}
	for _, one := range each {
		one.Fallbacks, one.ValidateConnect, one.ConnectTimeout = nil, nil, min(one.ConnectTimeout, soonest)
	}
	var all sync.WaitGroup
	for _, one := range each {
		all.Go(func() {
			for ctx.Err() == nil {
				db.look(ctx, one)
				select {
				case <-ctx.Done():
				case <-time.After(idleBeat):
				}
			}
		})
	}
	all.Wait()
}

// look notes what one host is. One that does not answer, or has been deposed, is nobody's
// concern here.
func (db *DB) look(ctx context.Context, one *pgconn.Config) {
	conn, err := pgconn.ConnectConfig(ctx, one)
	if err != nil {
		return
	}
	defer hangUp(conn)
	asking, cancel := context.WithTimeout(ctx, db.config.Patience)
	defer cancel()
	if s, err := identify(asking, conn); err == nil {
		_ = db.fence.pass(s)
	}
}

// hangUp ends a connection, at once when the server does not listen.
func hangUp(conn *pgconn.PgConn) {
	if conn != nil {
		ctx, cancel := context.WithTimeout(context.Background(), 100*time.Millisecond)
		defer cancel()
		conn.Close(ctx)
	}
}
