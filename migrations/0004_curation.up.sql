-- How records that people wrote came to serve, and how they ended; cuts that are kept,
-- to show what a record would change.

ALTER TABLE changes DROP CONSTRAINT kind_is_a_public_noun;
ALTER TABLE changes ADD CONSTRAINT kind_is_a_public_noun
    CHECK (kind IN ('machine', 'material', 'source', 'tool-class', 'record', 'cut'));

CREATE TABLE curation (
    record_id text CONSTRAINT a_record_is_curated_once PRIMARY KEY,
    record_kind text NOT NULL
        CONSTRAINT kind_of_a_record_is_known CHECK (record_kind IN ('force', 'starting', 'life')),
    scope_level text NOT NULL,
    scope_key text NOT NULL,
    state text NOT NULL
        CONSTRAINT state_is_known CHECK (state IN ('draft', 'approved', 'superseded', 'withdrawn')),
    in_force boolean NOT NULL,
    author text NOT NULL CONSTRAINT a_record_has_an_author CHECK (author <> ''),
    approver text NOT NULL,
    reason text NOT NULL,
    valid_from text NOT NULL CONSTRAINT start_of_validity_is_a_time_in_utc CHECK (valid_from = '' OR valid_from ~ '^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$'),
    valid_to text NOT NULL CONSTRAINT end_of_validity_is_a_time_in_utc CHECK (valid_to = '' OR valid_to ~ '^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$'),
    supersedes text NOT NULL,
    superseded_by text NOT NULL,
    safety boolean NOT NULL,
    lots integer NOT NULL CONSTRAINT lots_are_counted CHECK (lots >= 0),
    review_by text NOT NULL CONSTRAINT review_is_by_a_date CHECK (review_by = '' OR review_by ~ '^[0-9]{4}-[0-9]{2}-[0-9]{2}$'),
    past_review boolean NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT nobody_approves_their_own_record CHECK (lower(btrim(approver)) <> lower(btrim(author))),
    CONSTRAINT approval_names_its_approver CHECK (state <> 'approved' OR approver <> ''),
    CONSTRAINT only_approved_records_are_in_force CHECK (NOT in_force OR state = 'approved'),
    CONSTRAINT approval_says_from_when CHECK (state <> 'approved' OR valid_from <> ''),
    CONSTRAINT validity_goes_from_low_to_high CHECK (valid_to = '' OR valid_from <= valid_to),
    CONSTRAINT safety_is_about_withdrawals CHECK (NOT safety OR state = 'withdrawn'),
    CONSTRAINT a_record_does_not_supersede_itself CHECK (supersedes <> record_id AND superseded_by <> record_id)
);
COMMENT ON COLUMN curation.valid_from IS 'Times and dates are ISO 8601 text, so that a row reads the same in every session.';
COMMENT ON TABLE curation IS 'The life of a record that a person wrote, or ended; a record without a row here is reference data in force.';
CALL keep_history('curation', 'record', 'record_id', 'record_id');

CREATE TABLE stored_cut (
    id text CONSTRAINT a_cut_is_kept_once PRIMARY KEY
        CONSTRAINT cut_id_is_letters_digits_and_marks CHECK (id ~ '^[A-Za-z0-9][A-Za-z0-9._~-]{0,127}$'),
    request jsonb NOT NULL CONSTRAINT a_cut_is_a_document CHECK (jsonb_typeof(request) = 'object'),
    note text NOT NULL,
    revision bigint NOT NULL
);
COMMENT ON TABLE stored_cut IS 'Cuts as they were asked, to show what a change of data would do to them.';
CALL keep_history('stored_cut', 'cut', 'id', 'id');

INSERT INTO schema_applied (version) VALUES (4);
