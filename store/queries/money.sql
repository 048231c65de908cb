-- name: MoneySettings :one
select tax_permille, mileage_minor, mileage_unit, abort_fee_minor, payment_days, number_prefix, foot, early_start_wording, early_start_jurisdiction, version
  from money_settings
 where practice_id = @practice_id;

-- name: KeepMoneySettings :execrows
insert into money_settings (practice_id, tax_permille, mileage_minor, mileage_unit, abort_fee_minor, payment_days, number_prefix, foot, early_start_wording, early_start_jurisdiction, version)
values (@practice_id, @tax_permille, @mileage_minor, @mileage_unit, @abort_fee_minor, @payment_days, @number_prefix, @foot, @early_start_wording, @early_start_jurisdiction, 1)
on conflict (practice_id) do nothing;

-- name: UpdateMoneySettings :execrows
update money_settings
   set tax_permille = @tax_permille, mileage_minor = @mileage_minor, mileage_unit = @mileage_unit, abort_fee_minor = @abort_fee_minor, payment_days = @payment_days,
       number_prefix = @number_prefix, foot = @foot, early_start_wording = @early_start_wording, early_start_jurisdiction = @early_start_jurisdiction, version = version + 1
 where practice_id = @practice_id and version = @version;

-- name: MoneyOfJob :one
-- What a job's page says of money beside its invoices. The quote is the one of its engagement.
select j.id, j.number, v.name as vessel_name, coalesce(c.name, '')::text as payer_name, coalesce(c.address, '')::text as payer_address, p.currency,
       j.release_on_payment, j.released_because, j.released_at, coalesce(m.name, '')::text as released_by,
       coalesce(job_held(j.practice_id, j.id), false)::boolean as held, job_owes(j.practice_id, j.id)::bigint as owes,
       coalesce(e.early_start_requested, false)::boolean as early_start, e.terms_accepted_at, coalesce(e.terms_accepted_by, '')::text as terms_accepted_by,
       coalesce(e.currency, '')::text as quote_currency,
       coalesce((select array_agg(q.text order by q.id) from money_lines q where q.practice_id = e.practice_id and q.engagement_id = e.id and q.kind = 'quote'), '{}')::text[] as quote_texts,
       coalesce((select array_agg(q.amount_minor order by q.id) from money_lines q where q.practice_id = e.practice_id and q.engagement_id = e.id and q.kind = 'quote'), '{}')::bigint[] as quote_amounts,
       coalesce((select array_agg(q.tax_permille order by q.id) from money_lines q where q.practice_id = e.practice_id and q.engagement_id = e.id and q.kind = 'quote'), '{}')::integer[] as quote_taxes
  from jobs j
  join practices p on p.practice_id = j.practice_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id and c.erased_at is null
  left join members m on m.practice_id = j.practice_id and m.id = j.released_by
  left join engagements e on e.practice_id = j.practice_id and e.id = j.engagement_id
 where j.practice_id = @practice_id and j.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: EarlyStartsOfJob :many
select id, asked_on, asked_by, how, wording, jurisdiction
  from early_starts
 where practice_id = @practice_id and job_id = @job_id
 order by asked_on, id;

-- name: InvoicesOfJob :many
select id, job_id, kind, state, number, payer_name, payer_address, currency, dated, due_on, note, lines, credits_id, credits_number, net_minor, tax_minor, issued_at, printed,
       version, job_number, vessel_name, paid_minor, paid_on, credited_minor, owed_minor
  from invoice_sheets
 where practice_id = @practice_id and job_id = @job_id and state <> 'dropped'
 order by id;

-- name: PaymentsOfJob :many
select p.id, p.invoice_id, p.amount_minor, p.paid_on, p.how
  from invoice_payments p
  join invoices i on i.practice_id = p.practice_id and i.id = p.invoice_id
 where p.practice_id = @practice_id and i.job_id = @job_id
 order by p.paid_on, p.id;

-- name: GetInvoice :one
select i.id, i.job_id, i.kind, i.state, i.number, i.payer_name, i.payer_address, i.currency, i.dated, i.due_on, i.note, i.lines, i.credits_id, i.credits_number,
       i.net_minor, i.tax_minor, i.issued_at, i.printed, i.version, i.job_number, i.vessel_name, i.paid_minor, i.paid_on, i.credited_minor, i.owed_minor
  from invoice_sheets i
 where i.practice_id = @practice_id and i.id = @id and i.state <> 'dropped'
   and ((not i.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = i.practice_id and a.job_id = i.job_id and a.member_id = @member::uuid));

-- name: PaymentsOfInvoice :many
select id, invoice_id, amount_minor, paid_on, how
  from invoice_payments
 where practice_id = @practice_id and invoice_id = @invoice_id
 order by paid_on, id;

-- name: OwedInvoices :many
-- What is still to be paid, or paid back, due longest first.
select i.id, i.job_id, i.kind, i.state, i.number, i.payer_name, i.payer_address, i.currency, i.dated, i.due_on, i.note, i.lines, i.credits_id, i.credits_number,
       i.net_minor, i.tax_minor, i.issued_at, i.printed, i.version, i.job_number, i.vessel_name, i.paid_minor, i.paid_on, i.credited_minor, i.owed_minor
  from invoice_sheets i
 where i.practice_id = @practice_id and i.state = 'issued' and i.owed_minor <> 0 and (i.due_on, i.id) > (@after_due::date, @after_id::uuid)
   and ((not i.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = i.practice_id and a.job_id = i.job_id and a.member_id = @member::uuid))
 order by i.due_on, i.id
 limit @most;

-- name: ListInvoices :many
-- The newest first: drafts, or what was issued.
select i.id, i.job_id, i.kind, i.state, i.number, i.payer_name, i.payer_address, i.currency, i.dated, i.due_on, i.note, i.lines, i.credits_id, i.credits_number,
       i.net_minor, i.tax_minor, i.issued_at, i.printed, i.version, i.job_number, i.vessel_name, i.paid_minor, i.paid_on, i.credited_minor, i.owed_minor
  from invoice_sheets i
 where i.practice_id = @practice_id and i.state = @state and (coalesce(i.issued_at, '9999-12-31'), i.id) < (@before_at::timestamptz, @before_id::uuid)
   and ((not i.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = i.practice_id and a.job_id = i.job_id and a.member_id = @member::uuid))
 order by coalesce(i.issued_at, '9999-12-31') desc, i.id desc
 limit @most;

-- name: OwedByAge :many
-- Sums by currency and by days after the due day, as the practice's zone counts them.
select i.currency, case when i.owed_minor < 0 then 'to pay back' when d.day <= i.due_on then 'not yet due' when d.day - i.due_on <= 30 then '1 to 30 days late'
            when d.day - i.due_on <= 60 then '31 to 60 days late' when d.day - i.due_on <= 90 then '61 to 90 days late' else 'over 90 days late' end::text as age,
       count(*)::integer as invoices, sum(i.owed_minor)::bigint as owed_minor
  from invoice_sheets i
 cross join (select cast(timezone(p.time_zone, @now::timestamptz) as date) as day from practices p where p.practice_id = @practice_id) d
 where i.practice_id = @practice_id and i.state = 'issued' and i.owed_minor <> 0
   and ((not i.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = i.practice_id and a.job_id = i.job_id and a.member_id = @member::uuid))
 group by 1, 2
 order by 1, 2;

-- name: HeldJobs :many
-- Jobs with an issued report whose links stay shut until they are paid.
select j.id, j.number, v.name as vessel_name, coalesce(c.name, '')::text as client_name, p.currency, job_owes(j.practice_id, j.id)::bigint as owes,
       coalesce((select array_agg(r.number order by r.number) from reports r where r.practice_id = j.practice_id and r.job_id = j.id and r.number is not null), '{}')::text[] as reports
  from jobs j
  join practices p on p.practice_id = j.practice_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id and c.erased_at is null
 where j.practice_id = @practice_id and j.release_on_payment and j.released_because = '' and job_held(j.practice_id, j.id)
   and exists (select from reports r where r.practice_id = j.practice_id and r.job_id = j.id and r.number is not null)
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by j.number
 limit 200;

-- name: HiddenInvoices :one
-- How many issued invoices belong to jobs that are not open to whoever asks.
select count(*)::integer as invoices
  from invoices i
  join jobs j on j.practice_id = i.practice_id and j.id = i.job_id
 where i.practice_id = @practice_id and i.state = 'issued'
   and not ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: InvoicesToExport :many
select i.id, i.job_id, i.kind, i.state, i.number, i.payer_name, i.payer_address, i.currency, i.dated, i.due_on, i.note, i.lines, i.credits_id, i.credits_number,
       i.net_minor, i.tax_minor, i.issued_at, i.printed, i.version, i.job_number, i.vessel_name, i.paid_minor, i.paid_on, i.credited_minor, i.owed_minor
  from invoice_sheets i
 where i.practice_id = @practice_id and i.state = 'issued' and i.dated between @from_day::date and @to_day::date and (i.issued_at, i.id) > (@after_at::timestamptz, @after_id::uuid)
   and ((not i.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = i.practice_id and a.job_id = i.job_id and a.member_id = @member::uuid))
 order by i.issued_at, i.id
 limit @most;

-- name: HoldInvoice :one
-- An invoice of a job that this member may see, held until the transaction ends.
select i.id
  from invoices i
  join jobs j on j.practice_id = i.practice_id and j.id = i.job_id
 where i.practice_id = @practice_id and i.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
   for update of i;

-- name: InsertInvoice :exec
insert into invoices (practice_id, id, job_id, kind, payer_name, payer_address, currency, note, lines, credits_id, net_minor, tax_minor, created_at)
values (@practice_id, @id, @job_id, @kind, @payer_name, @payer_address, @currency, @note, @lines, sqlc.narg('credits_id'), @net_minor, @tax_minor, @now);

-- name: UpdateInvoice :execrows
update invoices
   set payer_name = @payer_name, payer_address = @payer_address, note = @note, lines = @lines, net_minor = @net_minor, tax_minor = @tax_minor, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state = 'draft';

-- name: DropInvoice :execrows
update invoices
   set state = 'dropped', version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state = 'draft';

-- name: NextInvoiceNumber :one
-- The counter's row is held until the transaction ends: numbers have no gaps, since what
-- fails gives its number back, and no doubles, since the next one waits.
insert into invoice_counters (practice_id, year, last)
values (@practice_id, @year, 1)
on conflict (practice_id, year) do update set last = invoice_counters.last + 1
returning last;

-- name: IssueInvoice :execrows
update invoices
   set state = 'issued', number = @number::text, dated = @dated::date, due_on = @due_on::date, printed = @printed, issued_at = @now::timestamptz, issued_by = sqlc.narg('issued_by'),
       version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state = 'draft';

-- name: InsertPayment :exec
insert into invoice_payments (practice_id, id, invoice_id, amount_minor, paid_on, how, recorded_at, recorded_by)
values (@practice_id, @id, @invoice_id, @amount_minor, @paid_on, @how, @now, sqlc.narg('recorded_by'));

-- name: HoldReports :exec
update jobs
   set release_on_payment = @hold::boolean or release_on_payment, released_because = @because::text, released_at = sqlc.narg('released_at')::timestamptz, released_by = sqlc.narg('released_by')
 where practice_id = @practice_id and id = @id;

-- name: JobRelease :one
select release_on_payment, released_because, coalesce(job_held(practice_id, id), false)::boolean as held
  from jobs
 where practice_id = @practice_id and id = @id;

-- name: InsertEarlyStart :exec
insert into early_starts (practice_id, id, job_id, asked_on, asked_by, how, wording, jurisdiction, recorded_at, recorded_by)
values (@practice_id, @id, @job_id, @asked_on, @asked_by, @how, @wording, @jurisdiction, @now, sqlc.narg('recorded_by'));

-- name: InvoicesOfShare :many
-- The issued invoices of the job whose report a link opens, where the link is its client's.
select i.id, i.job_id, i.kind, i.state, i.number, i.payer_name, i.payer_address, i.currency, i.dated, i.due_on, i.note, i.lines, i.credits_id, i.credits_number,
       i.net_minor, i.tax_minor, i.issued_at, i.printed, i.version, i.job_number, i.vessel_name, i.paid_minor, i.paid_on, i.credited_minor, i.owed_minor
  from shares s
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id and c.erased_at is null
  join invoice_sheets i on i.practice_id = j.practice_id and i.job_id = j.id and i.state = 'issued'
 where s.practice_id = @practice_id and s.id = @share_id and s.email <> '' and (s.party_id is not null and s.party_id = j.client_id or lower(s.email) = lower(coalesce(c.email, '')))
 order by i.issued_at, i.id;

-- name: OpenLinksOfJob :many
-- Links to issued reports of a job whose holders were not yet told that they are open.
select s.id, s.name, s.email, r.number::text as number, v.name as vessel_name, p.name as practice_name, p.invented, s.created_at as sent_at
  from reports r
  join shares s on s.practice_id = r.practice_id and s.report_id = r.id and s.revoked_at is null and s.until > @now::timestamptz and s.email <> '' and s.told_open_at is null
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  join practices p on p.practice_id = r.practice_id
 where r.practice_id = @practice_id and r.job_id = @job_id and r.number is not null
 order by s.created_at, s.id;

-- name: ToldOpen :exec
update shares set told_open_at = @now
 where practice_id = @practice_id and id = any(@ids::uuid[]);
