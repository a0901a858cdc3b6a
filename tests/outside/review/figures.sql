-- The figures of `lineside review`, counted from the lines of the case files as they stand.
--
-- Read by DuckDB and by Spark alike. `lines` is made by the engine's own file (one row a line of a case file, `n` their
-- order in the file); `tests` has the state of each test. What follows a line `-- view NAME` becomes a view, what follows
-- `-- table NAME` must come to the rows of that table.

-- view cases
select
  file,
  max(id) as id,
  max(opened) as opened,
  max(month) as month,
  max_by(complaint, n) filter (where kind = 'complaint') as complaint,
  max_by(equipment, n) filter (where kind = 'equipment') as equipment,
  max_by(technician, n) filter (where kind = 'visit' and technician is not null) as technician,
  max_by(place, n) filter (where kind = 'site' and place is not null) as place,
  count(*) filter (where kind = 'visit') as visits,
  max_by(leader, n) filter (where kind in ('standing', 'concluded')) as leader,
  max_by(said, n) filter (where kind in ('standing', 'concluded')) as said,
  max_by(remainder, n) filter (where kind in ('standing', 'concluded')) as remainder,
  max_by(halted, n) filter (where kind = 'concluded') as halted,
  max_by(callback_of, n) filter (where kind = 'callback') as callback_of,
  max(n) filter (where kind = 'closed') as closing,
  count(distinct coalesce(cause, 'not-listed')) filter (where kind = 'closed') as causes
from lines
group by file

-- view worked
select file, sum(case when gap between 0 and 3600 then gap else 0 end) as seconds
from (select file, moment - lag(moment) over (partition by file order by n) as gap from lines where kind is not null) as gaps
group by file

-- view answers
select file, test, given, n
from (
  select file, test, given, n, row_number() over (partition by file, test order by n desc) as newest
  from lines
  where kind = 'answer'
) as ranked
where newest = 1

-- view effort
select
  file,
  count(*) filter (where given <> 'could-not-check') as tests,
  count(*) filter (where given = 'could-not-check') as skipped
from answers
group by file

-- view closings
select lines.file, coalesce(lines.cause, 'not-listed') as cause, lines.proved, lines.in_danger,
  coalesce(lines.not_listed, nullif(lines.text, ''), '(no words)') as words
from lines
join cases on cases.file = lines.file and cases.closing = lines.n

-- view returns
select callback_of as id, min_by(file, opened) as file
from cases
where callback_of is not null
group by callback_of

-- view known
select
  cases.*,
  worked.seconds,
  coalesce(effort.tests, 0) as tests,
  coalesce(effort.skipped, 0) as skipped,
  closings.cause,
  closings.proved,
  closings.in_danger,
  closings.words,
  closings.file is not null as closed,
  closings.file is not null and returns.id is not null as came_back,
  closings.file is not null and ((cases.causes > 1 and closings.proved)
    or coalesce(later.proved and later.cause <> closings.cause, false)) as overturned,
  closings.file is not null and not ((cases.causes > 1 and closings.proved)
    or coalesce(later.proved and later.cause <> closings.cause, false))
    and (cases.causes > 1 or coalesce(later.cause <> closings.cause, false)) as doubted,
  coalesce(later.proved and later.cause <> closings.cause, false) as disproved,
  case when later.proved and later.cause <> closings.cause then later.cause when closings.proved then closings.cause end
    as truth,
  cases.leader is not null and (closings.proved or coalesce(later.proved and later.cause <> closings.cause, false))
    as judged,
  cases.leader = case when later.proved and later.cause <> closings.cause then later.cause
    when closings.proved then closings.cause end as led
from cases
left join worked on worked.file = cases.file
left join effort on effort.file = cases.file
left join closings on closings.file = cases.file
left join returns on returns.id = cases.id
left join closings as later on later.file = returns.file

-- table overview
select what, part, total from (
  select 'cases' as what, count(*) as part, cast(null as bigint) as total from known
  union all select 'closed', count(*) filter (where closed), count(*) from known
  union all select 'of the closed, proved', count(*) filter (where proved), count(*) from known where closed
  union all select 'of the closed, with a danger standing', count(*) filter (where in_danger), count(*)
    from known where closed
  union all select 'of the proved, disproved by a callback', count(*) filter (where disproved), count(*)
    from known where proved
  union all select 'of the closed, cause not listed', count(*) filter (where cause = 'not-listed'), count(*)
    from known where closed
  union all select 'of the closed, came back', count(*) filter (where came_back), count(*) from known where closed
  union all select 'of the closed, overturned', count(*) filter (where overturned), count(*) from known where closed
  union all select 'of the closed, doubted by a later guess', count(*) filter (where doubted), count(*)
    from known where closed
  union all select 'opened as a callback', count(callback_of), count(*) from known
  union all select 'stopped for safety', count(*) filter (where halted), count(*) from known
  union all select 'of those whose cause is known, it led', count(*) filter (where led), count(*) from known where judged
  union all select 'ended with 25 % or more on something not listed', count(*) filter (where remainder >= 250000),
    count(*) from known
) as figures

-- table cause
select cause, count(*), (select count(*) from closings), count(*) filter (where proved), count(*) filter (where not proved),
  count(*) filter (where came_back), count(*) filter (where overturned), count(*) filter (where led),
  count(*) filter (where judged)
from known
where closed
group by cause

-- table came-back
select closings.cause, count(*), count(*) filter (where later.cause = closings.cause),
  count(*) filter (where later.cause <> closings.cause and later.proved),
  count(*) filter (where later.cause <> closings.cause and not later.proved)
from cases
join closings on closings.file = cases.file
join returns on returns.id = cases.id
left join closings as later on later.file = returns.file
group by closings.cause

-- groups complaint equipment technician month
select {key}, count(*), count(*) filter (where closed), count(*) filter (where proved), count(*) filter (where came_back),
  count(*) filter (where overturned), count(*) filter (where led), count(*) filter (where judged),
  cast(sum(seconds) as bigint), cast(sum(tests) as bigint), cast(sum(skipped) as bigint)
from known
group by {key}

-- table callback-place
select place, count(*), count(callback_of), count(*) filter (where overturned)
from known
group by place
having count(callback_of) > 0

-- table callback
select now.id, before.cause, before.proved, now.cause
from known as now
left join known as before on before.id = now.callback_of
where now.callback_of is not null

-- table replaced
select concat(answers.test, '/', outcome), known.cause, count(*), count(*) filter (where known.proved)
from (select file, test, given, regexp_extract(given, ':"([^"]+)"', 1) as outcome from answers) as answers
join known on known.file = answers.file and known.closed
where test in ('replaced-without-cure', 'burner-part-tried') and given <> 'could-not-check'
  and outcome not in ('nothing', 'none')
group by answers.test, outcome, known.cause

-- table skipped
select test, count(*) from answers where given = 'could-not-check' group by test

-- view live
select states.state, known.file, known.technician,
  count(made.test) as tests,
  max(coalesce(accepted.times, 0)) as accepted,
  case when count(made.test) > 0 and max(coalesce(accepted.times, 0)) = 0
    and not (states.state = 'running' and max(coalesce(live.times, 0)) > 0) then 1 else 0 end as without
from known
cross join (select distinct state from tests where state not in ('told', 'any')) as states
left join (
  select answers.file, answers.test, tests.state
  from answers join tests on tests.id = answers.test
  where answers.given <> 'could-not-check' and tests.kind <> 'calculation'
) as made on made.file = known.file and made.state = states.state
left join (select file, state, count(*) as times from lines where kind = 'acknowledged' group by file, state)
  as accepted on accepted.file = known.file and accepted.state = states.state
left join (select file, count(*) as times from lines where kind = 'acknowledged' and state = 'energised' group by file)
  as live on live.file = known.file
group by states.state, known.file, known.technician

-- table live
select state, sum(tests), sum(accepted), sum(without) from live group by state

-- view visits
select file, n, technician,
  coalesce(lead(n) over (partition by file order by n), 9223372036854775807) as next_visit
from lines
where kind = 'visit'

-- view hands
select file, technician, sum(tests) as tests, sum(accepted) as accepted
from (
  select answers.file, visits.technician, 1 as tests, 0 as accepted
  from answers
  join tests on tests.id = answers.test and tests.state = 'energised' and tests.kind <> 'calculation'
  left join visits on visits.file = answers.file and answers.n > visits.n and answers.n < visits.next_visit
  where answers.given <> 'could-not-check'
  union all
  select lines.file, visits.technician, 0, 1
  from lines
  left join visits on visits.file = lines.file and lines.n > visits.n and lines.n < visits.next_visit
  where lines.kind = 'acknowledged' and lines.state = 'energised'
) as work
group by file, technician

-- table live-technician
select name, cast(sum(tests) as bigint), cast(sum(accepted) as bigint), cast(sum(without) as bigint)
from (
  select coalesce(technician, '(not named)') as name, tests, accepted,
    case when tests > 0 and accepted = 0 then 1 else 0 end as without
  from hands
) as work
group by name

-- table effort
select measure, cast(sum(value) as bigint), count(*),
  max(value) filter (where place = greatest(1, cast(ceil(total * 50 / 100.0) as bigint))),
  max(value) filter (where place = greatest(1, cast(ceil(total * 75 / 100.0) as bigint))),
  max(value) filter (where place = greatest(1, cast(ceil(total * 90 / 100.0) as bigint))),
  max(value)
from (
  select measure, value, row_number() over (partition by measure order by value) as place,
    count(*) over (partition by measure) as total
  from (
    select 'minutes worked' as measure, cast(seconds as bigint) as value from known
    union all select 'tests that told', tests from known
    union all select 'could not be checked', skipped from known
    union all select 'visits', visits from known
  ) as measures
) as ranked
group by measure

-- table calibration
select bin, count(*), cast(sum(said) as bigint), count(*) filter (where led)
from (
  select case when said < 200000 then 0 when said < 400000 then 1 when said < 600000 then 2 when said < 800000 then 3
    when said < 900000 then 4 when said < 990000 then 5 else 6 end as bin, said, led
  from known where judged
) as judged
group by bin

-- table not-listed
select words, count(*) from known where closed and cause = 'not-listed' group by words

-- table surprising
select test, count(distinct file) from lines where kind = 'surprising' group by test

-- table learned
select complaint, cause, count(*) from known where closed and not disproved group by complaint, cause
