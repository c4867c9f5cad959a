package db_test

import "maps"

// Those of keys and of kept answers.
func init() {
	maps.Copy(violations, map[string][]string{
		"access_change.a_key_is_made_rotated_or_revoked":         {`action = 'lost'`},
		"access_change.somebody_changed_the_key":                 {`who = ''`},
		"access_key.a_digest_has_32_bytes":                       {`digest = 'short'`},
		"access_key.a_key_has_a_name":                            {`name = ''`, `name = repeat('a', 81)`},
		"access_key.a_view_token_only_reads_and_computes":        {`view = true, scopes = '{write}'`},
		"access_key.an_earlier_digest_has_32_bytes":              {`earlier_digest = 'short', earlier_made = now(), earlier_until = now()`},
		"access_key.an_earlier_secret_has_its_times":             {`earlier_made = now()`, `earlier_digest = digest`},
		"access_key.key_id_is_eight_letters_and_digits":          {`id = 'AAAAAAAA'`, `id = 'short'`},
		"access_key.revocation_names_who":                        {`revoked = now()`, `revoked_by = 'ann'`},
		"access_key.scopes_are_known":                            {`scopes = '{}'`, `scopes = '{root}'`},
		"access_key.somebody_made_the_key":                       {`made_by = ''`},
		"kept_answer.a_fingerprint_has_32_bytes":                 {`fingerprint = 'short'`},
		"kept_answer.an_idempotency_key_has_1_to_255_characters": {`key = ''`, `key = repeat('a', 256)`},
		"kept_answer.header_fields_are_an_object":                {`header = '[]'`},
		"kept_answer.no_fault_of_ours_is_kept":                   {`status = 500`, `status = 503`, `status = 100`},
	})
}
