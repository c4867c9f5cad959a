package api_test

import (
	"context"
	"fmt"
	"time"

	"swarf/api"
	"swarf/domain"
)

// keptJob is a job of the shop with its answers.
type keptJob struct {
	api.Job
	lines []byte
}

// work computes what waits, as a worker would.
func (s *shop) work() {
	s.t.Helper()
	for i := range s.jobs {
		j := &s.jobs[i]
		if j.State != "waiting" {
			continue
		}
		lines, err := s.sweep(context.Background(), &j.Job, 0, j.Items)
		if err != nil {
			s.t.Fatal(err)
		}
		now := time.Now()
		j.lines, j.Done, j.State, j.EndedAt = lines, j.Items, "finished", &now
	}
}

func (s *shop) CreateJob(_ context.Context, j api.Job) (api.Job, error) {
	j.ID, j.State, j.CreatedAt = int64(len(s.jobs)+1), "waiting", time.Now()
	s.jobs = append(s.jobs, keptJob{Job: j})
	return j, nil
}

func (s *shop) find(id int64) (*keptJob, error) {
	if id > int64(len(s.jobs)) {
		return nil, &domain.Error{Kind: domain.NotFound, Code: "not-found", Msg: fmt.Sprintf("there is no job %d", id)}
	}
	return &s.jobs[id-1], nil
}

func (s *shop) Job(_ context.Context, id int64) (api.Job, error) {
	j, err := s.find(id)
	if err != nil {
		return api.Job{}, err
	}
	return j.Job, nil
}

func (s *shop) Jobs(_ context.Context, before int64, limit int) (list []api.Job, _ error) {
	for i := len(s.jobs) - 1; i >= 0 && len(list) < limit; i-- {
		if j := s.jobs[i].Job; before == 0 || j.ID < before {
			list = append(list, j)
		}
	}
	return list, nil
}

func (s *shop) CancelJob(_ context.Context, id int64) (api.Job, error) {
	j, err := s.find(id)
	if err != nil {
		return api.Job{}, err
	}
	if j.EndedAt == nil {
		now := time.Now()
		j.State, j.EndedAt = "cancelled", &now
	}
	return j.Job, nil
}

func (s *shop) JobParts(_ context.Context, id int64, use func([]byte) error) error {
	return use(s.jobs[id-1].lines)
}
