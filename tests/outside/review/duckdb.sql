-- The lines of case files, read by DuckDB. `{files}` is a pattern such as 'cases/*.jsonl'.
create or replace table lines as
select
  filename as file,
  row_number() over () as n,
  id,
  epoch_us(opened) // 1000000 as opened,
  strftime(opened at time zone 'UTC', '%Y-%m') as month,
  epoch_us("at") // 1000000 as moment,
  event.kind as kind,
  event.complaint as complaint,
  event.equipment as equipment,
  event.technician as technician,
  event.place as place,
  event."case" as callback_of,
  event.test as test,
  event.given as given,
  event.state as state,
  event.text as text,
  event.cause as cause,
  event.not_listed as not_listed,
  event.proved as proved,
  coalesce(len(list_filter(event.standing, lambda stood: stood.cleared is null)) > 0, false) as in_danger,
  coalesce(event.leader.cause, event.leaders[1].cause) as leader,
  cast(floor(coalesce(event.leader.probability, event.leaders[1].probability) * 1e6 + 0.5) as bigint) as said,
  cast(floor(event.remainder * 1e6 + 0.5) as bigint) as remainder,
  event.halted as halted
from read_json('{files}', format = 'newline_delimited', filename = true, columns = {
  id: 'VARCHAR', opened: 'TIMESTAMPTZ', "at": 'TIMESTAMPTZ',
  event: 'STRUCT(kind VARCHAR, complaint VARCHAR, equipment VARCHAR, technician VARCHAR, place VARCHAR, "case" VARCHAR,
    test VARCHAR, given VARCHAR, state VARCHAR, text VARCHAR, cause VARCHAR, not_listed VARCHAR, proved BOOLEAN,
    standing STRUCT(hold VARCHAR, cleared VARCHAR)[],
    leader STRUCT(cause VARCHAR, probability DOUBLE), leaders STRUCT(cause VARCHAR, probability DOUBLE)[],
    remainder DOUBLE, halted BOOLEAN)'
});
