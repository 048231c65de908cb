package store

// trace is a table in which the practice keeps something of a party. A test holds the list
// against the catalogue: no table that refers to people is left out of it.
type trace struct {
	table string
	what  string // in words, as a page names it
	// of chooses the rows r about @person in @practice.
	of string
	// without names columns that leave nobody's house: secrets, bytes, keys into the store.
	without []string
	// wipe is what an erasure sets in rows of which `only` is true; empty: they stay.
	wipe, only string
	goes       string // what an erasure does, in words
	stays      string // what stays, and on which ground
	others     bool   // it is somebody else's, too: scrubbed, and in no export
}

// untilFile is the ground of everything that belongs to a file: its time is the practice's
// statement, and when it is over somebody decides.
const untilFile = "until the time of the file is over"

// traces is every table with something of a person in it. An erasure goes from the first to
// the last: what hangs on a row is wiped before the row is.
var traces = []trace{
	{
		table: "mails", what: "letters sent or waiting",
		of:   `lower(r.recipient) in (select person_addresses(@practice, @person))`,
		wipe: `recipient = '', subject = '', body = '', calendar = '', unsubscribe = '', erased_at = @now`, only: `r.erased_at is null`,
		goes: "The words go. A letter that waits is never sent.",
	},
	{
		table: "mails", what: "letters to others that name them", others: true,
		of: `r.erased_at is null and not address_held(@practice, r.recipient) and (addresses_person(r.body || ' ' || r.subject, @practice, @person) or names_person(r.body || ' ' || r.subject, @practice, @person)
			and not exists (select from parties o where o.practice_id = @practice and o.id not in (select person_entries(@practice, @person)) and o.erased_at is null
			                   and lower(btrim(o.name)) in (select person_names(@practice, @person))))`,
		wipe: `subject = scrubbed(subject, @practice, @person, @by), body = scrubbed(body, @practice, @person, @by)`,
		goes: "Name, address and telephone go from the words.",
	},
	{
		table: "client_answers", what: "answers to recommendations",
		of:   `r.share_id in (select person_shares(@practice, @person))`,
		wipe: `reason = ''`, only: `r.reason <> ''`,
		goes: "Reasons go.", stays: "That there was an answer, and which, stays with the boat’s recommendation.",
	},
	{
		table: "client_messages", what: "messages to the practice",
		of:   `r.share_id in (select person_shares(@practice, @person))`,
		wipe: `text = ''`, only: `r.text <> ''`, goes: "The words go.",
	},
	{
		table: "client_permits", what: "leave given to share a report",
		of:   `r.share_id in (select person_shares(@practice, @person))`,
		wipe: `name = @by, email = '', purpose = '', withdrawn_at = coalesce(withdrawn_at, @now)`, only: `r.email <> ''`,
		goes: "It ends, and names nobody any more.",
	},
	{
		table: "client_photos", what: "photos and invoices sent with an answer", without: []string{"view_key", "thumb_key"},
		of:   `r.share_id in (select person_shares(@practice, @person))`,
		wipe: `state = 'refused', refused_because = 'erased', view_key = '', thumb_key = ''`, only: `r.refused_because <> 'erased'`,
		goes: "They go from the store of files.",
	},
	{
		table: "uploads", what: "their files", without: []string{"object_key", "sha256"},
		of:   `r.id in (select c.upload_id from client_photos c where c.practice_id = @practice and c.share_id in (select person_shares(@practice, @person)))`,
		wipe: `swept_at = coalesce(swept_at, @now), file_name = ''`, only: `r.swept_at is null`,
		goes: "They go from the store of files.",
	},
	{
		table: "share_codes", what: "codes sent by letter", without: []string{"code_sha256"},
		of:   `r.share_id in (select person_shares(@practice, @person))`,
		wipe: `until = least(until, @now)`, only: `r.until > @now`, goes: "They open nothing any more.",
	},
	{
		table: "share_openings", what: "times a link was opened",
		of:    `r.share_id in (select person_shares(@practice, @person))`,
		stays: "When a link was opened stays, naming nobody.",
	},
	{
		table: "client_grants", what: "sign-in to an account of reports",
		of:   `lower(r.email) in (select person_addresses(@practice, @person))`,
		wipe: `email = '', ended_at = coalesce(ended_at, @now)`, only: `r.email <> ''`,
		goes: "It is closed here; the sign-in goes where nothing else is open to it.",
	},
	{
		table: "visit_invitations", what: "invitations to a visit by letter",
		of:   `lower(r.email) in (select person_addresses(@practice, @person))`,
		wipe: `name = @by, email = ''`, only: `r.email <> ''`, goes: "They name nobody any more.",
	},
	{
		table: "yard_links", what: "links to a yard’s slots", without: []string{"token_sha256"},
		of:   `lower(r.email) in (select person_addresses(@practice, @person))`,
		wipe: `name = @by, email = '', revoked_at = coalesce(revoked_at, @now)`, only: `r.email <> ''`,
		goes: "They end, and name nobody any more.",
	},
	{
		table: "terms_links", what: "quotes and terms by link", without: []string{"token_sha256", "code_sha256"},
		of:   `r.engagement_id in (select person_enquiries(@practice, @person))`,
		wipe: `name = @by, email = '', revoked_at = coalesce(revoked_at, @now), erased_at = @now`, only: `r.erased_at is null`,
		goes: "The link ends; name and address go.", stays: "What was accepted, when and under which name stays " + untilFile + ": it is the contract.",
	},
	{
		table: "engagements", what: "enquiries, and what was agreed",
		of: `r.id in (select person_enquiries(@practice, @person))`,
		wipe: `asked_by = case when asked_by = '' then '' else @by end, contact = '', for_whom = '', conflict_found = '[]', conflict_note = scrubbed(conflict_note, @practice, @person, @by),
			asked_because = scrubbed(asked_because, @practice, @person, @by), scope = scrubbed(scope, @practice, @person, @by), version = version + 1`,
		goes: "Name, contact and the check of ties go.", stays: "Kind, dates and accepted terms stay " + untilFile + ".",
	},
	{
		table: "attendance_notes", what: "notes of what was said",
		of:   `r.job_id in (select person_jobs(@practice, @person)) and (names_person(r.with_whom, @practice, @person) or names_person(r.text, @practice, @person))`,
		wipe: `with_whom = scrubbed(with_whom, @practice, @person, @by), text = scrubbed(text, @practice, @person, @by)`,
		goes: "Name, address and telephone go from the words.", stays: "What was said of the boat stays.",
	},
	{
		table: "permissions", what: "leave to survey, lift, scrape or open",
		of:   `r.given_by_id = @person or r.job_id in (select person_jobs(@practice, @person)) and lower(btrim(r.given_by_name)) in (select person_names(@practice, @person))`,
		wipe: `given_by_name = case when given_by_name = '' then '' else @by end, note = scrubbed(note, @practice, @person, @by), makes_good = scrubbed(makes_good, @practice, @person, @by), version = version + 1`,
		goes: "The name goes.", stays: "That leave was given, for what and when stays with the boat. Hold the file first where the name may be needed.",
	},
	{
		table: "recommendation_states", what: "steps of a recommendation set in their name",
		of: `lower(btrim(r.by_name)) in (select person_names(@practice, @person))
			and r.recommendation_id in (select x.id from recommendations x where x.practice_id = @practice and x.job_id in (select person_jobs(@practice, @person)))`,
		wipe: `by_name = @by`, goes: "The name goes.", stays: "The step stays with the boat.",
	},
	{
		table: "invoices", what: "invoices",
		of: `r.job_id in (select j.id from jobs j where j.practice_id = @practice and j.client_id = @person)
			or r.job_id in (select person_jobs(@practice, @person)) and lower(btrim(r.payer_name)) in (select person_names(@practice, @person))`,
		wipe: `payer_name = @by, payer_address = '', version = version + 1`, only: `r.state <> 'issued'`,
		goes: "Drafts name nobody any more.", stays: "Issued invoices stay as issued " + untilFile + ": the practice’s books.",
	},
	{
		table: "invoice_payments", what: "payments",
		of:    `r.invoice_id in (select i.id from invoices i where i.practice_id = @practice and i.job_id in (select j.id from jobs j where j.practice_id = @practice and j.client_id = @person))`,
		stays: "They stay, and name nobody.",
	},
	{
		table: "early_starts", what: "requests to begin at once",
		of:    `r.job_id in (select person_jobs(@practice, @person)) and lower(btrim(r.asked_by)) in (select person_names(@practice, @person))`,
		stays: "They stay as they were said " + untilFile + ": they belong to the contract.",
	},
	{
		table: "danger_told", what: "warnings of a danger",
		of: `(lower(btrim(r.name)) in (select person_names(@practice, @person)) or lower(r.email) in (select person_addresses(@practice, @person)))
			and r.notice_id in (select d.id from danger_notices d where d.practice_id = @practice and d.job_id in (select person_jobs(@practice, @person)))`,
		stays: "Who was warned of a danger, and when, stays " + untilFile + ".",
	},
	{
		table: "seen_letters", what: "letters that say what was seen", without: []string{"sha256"},
		of:    `r.job_id in (select person_jobs(@practice, @person)) and names_person(r.addressed_to, @practice, @person)`,
		stays: "They stay as they were written " + untilFile + ".",
	},
	{
		table: "reports", what: "issued reports", without: []string{"body", "in_short", "scope", "limits"},
		of:    `r.number is not null and r.job_id in (select j.id from jobs j where j.practice_id = @practice and j.client_id = @person)`,
		stays: "What was issued stays as it was issued, the client’s name in it, " + untilFile + ". Number and hash stay for good.",
	},
	{
		table: "report_snapshots", what: "hashes of issued reports", without: []string{"content"},
		of:    `r.report_id in (select x.id from reports x join jobs j on j.practice_id = x.practice_id and j.id = x.job_id where x.practice_id = @practice and j.client_id = @person)`,
		stays: "They tell whether a file is the one that was issued. The words behind them stay " + untilFile + ".",
	},
	{
		table: "jobs", what: "jobs asked for",
		of:   `r.id in (select person_jobs(@practice, @person))`,
		wipe: `scope = scrubbed(scope, @practice, @person, @by), stands_between = scrubbed(stands_between, @practice, @person, @by), version = version + 1`,
		goes: "The name goes from the scope.", stays: "Number, dates and kind stay: the boat’s record.",
	},
	{
		table: "visits", what: "visits",
		of:   `r.job_id in (select person_jobs(@practice, @person)) and names_person(r.note, @practice, @person)`,
		wipe: `note = scrubbed(note, @practice, @person, @by)`, goes: "The name goes from the note.", stays: "The visit stays: the boat’s record.",
	},
	{table: "party_roles", what: "parts in jobs and vessels", of: `r.party_id = @person`, stays: "That somebody had this part, and when, stays; it names nobody."},
	{table: "reinspections", what: "recalls", of: `r.recalled_party = @person`, stays: "That a recall was sent, and when, stays; it names nobody."},
	{table: "spells", what: "times ashore at a yard of theirs", of: `r.yard_id = @person`, stays: "The boat’s record."},
	{table: "yards", what: "what is known of a yard of theirs", of: `r.party_id = @person`, stays: "A yard is not erased.", without: []string{"gate_code", "key_place"}},
	{table: "holds", what: "holds", of: `r.party_id = @person`, stays: "When a file was held and why stays; it names nobody."},
	{table: "person_exports", what: "exports like this one", of: `r.party_id = @person`, stays: "When somebody exported stays; it names nobody."},
	{table: "erasures", what: "erasures", of: `r.party_id = @person`, stays: "When something was erased, and how much, stays; it names nobody.", without: []string{"object_keys"}},
	{
		table: "party_merges", what: "entries made one",
		of:   `r.kept_id in (select person_entries(@practice, @person)) or r.lost_id in (select person_entries(@practice, @person))`,
		wipe: `because = scrubbed(because, @practice, @person, @by), undone_because = scrubbed(undone_because, @practice, @person, @by)`,
		goes: "The name goes from the reason.", stays: "That two entries became one stays; it names nobody.",
	},
	{
		table: "parties_apart", what: "entries found to be two people",
		of:   `r.first_id in (select person_entries(@practice, @person)) or r.second_id in (select person_entries(@practice, @person))`,
		wipe: `because = scrubbed(because, @practice, @person, @by)`,
		goes: "The name goes from the reason.", stays: "That they are two stays; it names nobody.",
	},
	{
		table: "shares", what: "links to reports", without: []string{"token_sha256"},
		of:   `r.id in (select person_shares(@practice, @person))`,
		wipe: `name = @by, email = '', purpose = '', revoked_at = coalesce(revoked_at, @now), erased_at = @now`, only: `r.erased_at is null`,
		goes: "They open nothing any more, and say so politely.",
	},
	{
		table: "parties", what: "name and ways to reach them",
		of:   `r.id in (select person_entries(@practice, @person))`,
		wipe: `name = @by, email = '', phone = '', address = '', notes = '', yard_notes = '', erased_at = @now, version = version + 1`,
		only: `r.erased_at is null`, goes: "All of it goes.",
	},
}

// memberAddress is a member's e-mail address in small letters; null for none.
const memberAddress = `(select lower(nullif(m.email, '')) from members m where m.practice_id = @practice and m.id = @member)`

// staff is the same for a member: what goes of one who left. Names under what was signed stay.
var staff = []trace{
	{
		table: "mails", what: "letters sent or waiting", of: `lower(r.recipient) = ` + memberAddress,
		wipe: `recipient = '', subject = '', body = '', calendar = '', unsubscribe = '', erased_at = @now`, only: `r.erased_at is null`, goes: "The words go. A letter that waits is never sent.",
	},
	{
		table: "invitations", what: "the invitation", of: `lower(r.email) = ` + memberAddress,
		wipe: `email = '', name = @by, expires_at = least(expires_at, @now)`, goes: "It names nobody any more.",
	},
	{table: "leaves", what: "leaves with their reasons", of: `r.member_id = @member`, wipe: `reason = ''`, only: `r.reason <> ''`, goes: "Reasons go.", stays: "The days stay in the diary."},
	{table: "devices", what: "devices", of: `r.member_id = @member`, wipe: `name = ''`, only: `r.name <> ''`, goes: "Their names go."},
	{
		table: "calendar_feeds", what: "calendar feeds", of: `r.member_id = @member`,
		wipe: `revoked_at = coalesce(revoked_at, @now)`, only: `r.revoked_at is null`, goes: "They end.",
	},
	{table: "notice_settings", what: "mails of what is new", of: `r.member_id = @member`, wipe: `digest = 'none', version = version + 1`, only: `r.digest <> 'none'`, goes: "They end."},
	{
		table: "members", what: "address and sign-in", of: `r.id = @member`, wipe: `email = '', erased_at = @now, version = version + 1`,
		goes: "The address goes, and the sign-in where nothing else is open to it.", stays: "Name and qualification stay: they stand under what was signed.",
	},
}
