-- Answers to writes that carried an Idempotency-Key, kept in the transaction of the write
-- itself: whoever repeats the request gets the answer again, and nothing is written twice.

CREATE TABLE kept_answer (
    caller text NOT NULL,
    key text NOT NULL CONSTRAINT an_idempotency_key_has_1_to_255_characters CHECK (length(key) BETWEEN 1 AND 255),
    fingerprint bytea NOT NULL CONSTRAINT a_fingerprint_has_32_bytes CHECK (length(fingerprint) = 32),
    at timestamptz NOT NULL DEFAULT clock_timestamp(),
    status integer NOT NULL CONSTRAINT no_fault_of_ours_is_kept CHECK (status BETWEEN 200 AND 499),
    header jsonb NOT NULL CONSTRAINT header_fields_are_an_object CHECK (jsonb_typeof(header) = 'object'),
    body bytea NOT NULL,
    CONSTRAINT a_request_is_answered_once PRIMARY KEY (caller, key)
);
COMMENT ON TABLE kept_answer IS 'Answers to repeat; caller is the id of a key, empty without one. Rows go when their time is over.';
CREATE INDEX kept_answer_by_time ON kept_answer (at);

INSERT INTO schema_applied (version) VALUES (11);
