-- Batches that are computed later: what was asked, how far it has come, and the answers in
-- parts. Who works when is River's, in a schema of its own; what is done is here, so that a
-- worker that dies leaves nothing half done: a part and the count of what is done are
-- written together.

CREATE TABLE job (
    id bigint GENERATED ALWAYS AS IDENTITY CONSTRAINT a_job_has_one_id PRIMARY KEY,
    route text NOT NULL CONSTRAINT a_job_is_for_a_route CHECK (route LIKE '/v1/%'),
    units text NOT NULL CONSTRAINT units_of_a_job_are_known CHECK (units IN ('metric', 'inch')),
    query text NOT NULL,
    body bytea NOT NULL,
    items integer NOT NULL CONSTRAINT a_job_has_items CHECK (items >= 1),
    done integer NOT NULL DEFAULT 0,
    state text NOT NULL DEFAULT 'waiting'
        CONSTRAINT state_of_a_job_is_known CHECK (state IN ('waiting', 'running', 'finished', 'failed', 'cancelled')),
    why text NOT NULL DEFAULT '',
    who text NOT NULL CONSTRAINT somebody_asked_for_the_job CHECK (who <> ''),
    revision bigint NOT NULL CONSTRAINT a_job_is_of_a_revision CHECK (revision >= 1),
    created_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    ended_at timestamptz,
    CONSTRAINT no_more_is_done_than_there_is CHECK (done >= 0 AND done <= items),
    CONSTRAINT finished_means_all CHECK (state <> 'finished' OR done = items),
    CONSTRAINT what_ended_says_when CHECK ((state IN ('finished', 'failed', 'cancelled')) = (ended_at IS NOT NULL))
);

CREATE TABLE job_part (
    job_id bigint NOT NULL CONSTRAINT a_part_is_of_a_job REFERENCES job (id) ON DELETE CASCADE,
    from_item integer NOT NULL CONSTRAINT parts_begin_at_an_item CHECK (from_item >= 0),
    lines bytea NOT NULL,
    CONSTRAINT a_part_is_written_once PRIMARY KEY (job_id, from_item)
);

INSERT INTO schema_applied (version) VALUES (9);
