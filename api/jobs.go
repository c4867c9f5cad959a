package api

import (
	"context"
	"io"
	"net/http"
	"strconv"
	"time"

	"swarf/api/wire"
	"swarf/domain"
)

// jobRoutes are the rows of batches that are computed later.
func jobRoutes() []route {
	return []route{
		{http.MethodGet, "/v1/jobs", listJobs, batching, []string{"limit", "cursor"}, tableFormats},
		{http.MethodGet, "/v1/jobs/{id}", getJob, batching, nil, recordFormats},
		{http.MethodDelete, "/v1/jobs/{id}", cancelJob, batching, nil, recordFormats},
		{http.MethodGet, "/v1/jobs/{id}/result", getJobResult, batching, nil, []format{formatLines}},
	}
}

// Job is a batch that is computed later, as the store keeps it.
type Job struct {
	ID                int64
	Route             string
	Units, Query, Who string
	Body              []byte // an item a line
	Items, Done       int
	State, Why        string
	Revision          int64
	CreatedAt         time.Time
	EndedAt           *time.Time
}

func jobToWire(j *Job) *wire.Job {
	out := &wire.Job{ID: j.ID, Route: j.Route, State: j.State, Items: j.Items, Done: j.Done, Why: j.Why, Who: j.Who, CreatedAt: stampOf(j.CreatedAt), DataRevision: j.Revision}
	if j.EndedAt != nil {
		out.EndedAt = stampOf(*j.EndedAt)
	}
	if j.State == "finished" {
		out.Result = "/v1/jobs/" + strconv.FormatInt(j.ID, 10) + "/result"
	}
	return out
}

// listJobs answers GET /v1/jobs, the newest first.
func listJobs(x *exchange) error {
	if x.s.Store == nil {
		return noStore("there are no jobs")
	}
	limit, bad := x.query.whole("limit", 1, highestLimit, defaultLimit)
	if bad != nil {
		return bad
	}
	before := int64(0)
	if text := x.query.text("cursor"); text != "" {
		var err error
		if before, err = strconv.ParseInt(text, 36, 64); err != nil || before < 1 {
			return invalidCursor("is not one that was given out here")
		}
	}
	ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
	defer cancel()
	list, err := x.s.Store.Jobs(ctx, before, int(limit)+1)
	if err != nil {
		return err
	}
	out := &wire.JobList{Items: []wire.Job{}}
	if len(list) > int(limit) {
		list = list[:limit]
		next := strconv.FormatInt(list[limit-1].ID, 36)
		out.NextCursor = &next
		x.link(nextTarget(x.Request().URL, next), "next")
	}
	for i := range list {
		out.Items = append(out.Items, *jobToWire(&list[i]))
	}
	return x.conditional(out)
}

// job finds the job of the path with a step on it.
func (x *exchange) job(find func(ctx context.Context, id int64) (Job, error)) (*Job, error) {
	text, err := x.pathValue("id")
	if err != nil {
		return nil, err
	}
	if x.s.Store == nil {
		return nil, noStore("there are no jobs")
	}
	id, bad := strconv.ParseInt(text, 10, 64)
	if bad != nil || id < 1 || strconv.FormatInt(id, 10) != text {
		return nil, notFound("job", text, "/v1/jobs")
	}
	ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
	defer cancel()
	j, err := find(ctx, id)
	return &j, err
}

// getJob answers GET /v1/jobs/{id}: how far it has come.
func getJob(x *exchange) error {
	j, err := x.job(func(ctx context.Context, id int64) (Job, error) { return x.s.Store.Job(ctx, id) })
	if err != nil {
		return err
	}
	return x.conditional(jobToWire(j))
}

// cancelJob answers DELETE /v1/jobs/{id}: a job that has not ended ends. What ended stays.
func cancelJob(x *exchange) error {
	j, err := x.job(func(ctx context.Context, id int64) (Job, error) { return x.s.Store.CancelJob(ctx, id) })
	if err != nil {
		return err
	}
	return x.render(http.StatusOK, jobToWire(j))
}

// getJobResult answers GET /v1/jobs/{id}/result: a line for each item, in their order.
func getJobResult(x *exchange) error {
	j, err := x.job(func(ctx context.Context, id int64) (Job, error) { return x.s.Store.Job(ctx, id) })
	if err != nil {
		return err
	}
	if j.State != "finished" {
		return fault(domain.Conflict, "job-unfinished", "", "the job is "+j.State+", "+strconv.Itoa(j.Done)+" of "+strconv.Itoa(j.Items)+" items are done", "ask /v1/jobs/"+strconv.FormatInt(j.ID, 10)+" until it is finished")
	}
	x.attach("job-" + strconv.FormatInt(j.ID, 10) + ".ndjson")
	return x.stream(func(to io.Writer) error {
		return x.s.Store.JobParts(x.Request().Context(), j.ID, func(lines []byte) error {
			_, err := to.Write(lines)
			return err
		})
	})
}
