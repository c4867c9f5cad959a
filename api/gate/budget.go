package gate

import (
	"io"
	"sync/atomic"
)

// Budget bounds the memory that is held for callers: what they sent, and answers that they
// have not taken yet.
type Budget struct {
	most         int64
	held, turned atomic.Int64
}

// NewBudget makes a budget of so many bytes.
func NewBudget(most int64) *Budget { return &Budget{most: most} }

// Take takes bytes when they are there.
func (b *Budget) Take(n int64) bool {
	if b.held.Add(n) > b.most {
		b.held.Add(-n)
		b.turned.Add(1)
		return false
	}
	return true
}

// Hold takes bytes that are needed in any case: others do without meanwhile.
func (b *Budget) Hold(n int64) { b.held.Add(n) }

// Give gives bytes back.
func (b *Budget) Give(n int64) { b.held.Add(-n) }

// Held is how many bytes are taken, Turned how often there were none.
func (b *Budget) Held() int64   { return b.held.Load() }
func (b *Budget) Turned() int64 { return b.turned.Load() }

// Reader counts what is read against a budget as it comes, and not what is only announced:
// who sends slowly holds little. Reading ends with ErrFull where there is no more.
type Reader struct {
	From   io.Reader
	Budget *Budget
	Free   int64 // bytes that are not counted
	taken  int64
}

func (r *Reader) Read(p []byte) (int, error) {
	n, err := r.From.Read(p)
	counted := int64(n)
	spared := min(r.Free, counted)
	r.Free, counted = r.Free-spared, counted-spared
	if counted > 0 {
		if !r.Budget.Take(counted) {
			return 0, ErrFull
		}
		r.taken += counted
	}
	return n, err
}

// Taken is how much was counted since the start or Done.
func (r *Reader) Taken() int64 { return r.taken }

// Done gives back what was taken.
func (r *Reader) Done() {
	r.Budget.Give(r.taken)
	r.taken = 0
}
