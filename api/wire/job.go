package wire

// Job is a batch that is computed later.
type Job struct {
	ID           int64  `json:"id"`
	Route        string `json:"route"`
	State        string `json:"state" enum:"waiting,running,finished,failed,cancelled"`
	Items        int    `json:"items"`
	Done         int    `json:"done"`
	Why          string `json:"why,omitempty"`
	Who          string `json:"who"`
	CreatedAt    string `json:"created_at"`
	EndedAt      string `json:"ended_at,omitempty"`
	Result       string `json:"result,omitempty"` // where the answers are, once finished
	DataRevision int64  `json:"data_revision"`    // of the data that all of it is computed from
}

// JobList is a page of jobs, the newest first.
type JobList struct {
	Items      []Job   `json:"items"`
	NextCursor *string `json:"next_cursor"`
}
