#!/bin/sh
# The steps behind the figures of caneyear plan --json, as SQLite reads them. Prints TAP.
. "$PWD/tests/support/shell.sh"
day=2027-06-14
# SQLite puts some keys of a path in quotes, by its version: they are left out.
query() { # query SQL: over the plan as `plan(t)` and its steps as `step(place, formula, inputs)`
  sqlite3 :memory: "
    CREATE TABLE plan AS SELECT CAST(readfile('out') AS TEXT) AS t;
    CREATE TABLE step AS SELECT s.key AS place, json_extract(s.value, '\$.formula') AS formula,
        json_array_length(s.value, '\$.inputs') AS inputs
      FROM plan, json_each(t, '\$.steps') AS s;
    CREATE TABLE tree AS SELECT j.key, j.value, j.type, replace(j.path, char(34), '') AS path,
        replace(j.fullkey, char(34), '') AS fullkey
      FROM plan, json_tree(t) AS j WHERE j.path NOT LIKE '\$.steps%';
    $1"
}
holds() { # holds SQL: gives nothing but 0
  found=$(query "$1") && [ "$found" = 0 ]
}
# Objects at a path whose `why` leads to no step, or to one without a formula or inputs.
unexplained() {
  echo "SELECT count(*) FROM tree WHERE type = 'object' AND ($1) AND NOT EXISTS (
          SELECT 1 FROM json_each(tree.value, '\$.why') AS w JOIN step ON step.place = w.value
          WHERE step.formula <> '' AND step.inputs > 0)"
}
stages="path LIKE '\$.rows[%].cohorts[%].stages'"
crops="path LIKE '\$.rows[%].crops[%]' AND key = 'total_kg'"

for farm in demo backyard blank; do
  run plan "$share/$farm.yaml" --today $day --json
  ends 0 && [ ! -s err ] && holds "SELECT count(*) FROM tree WHERE path LIKE '%.why' AND
    (type <> 'integer' OR value NOT IN (SELECT place FROM step))"
  ok "$farm: each why names places in the list of steps"
  holds "SELECT count(*) FROM tree WHERE type = 'object' AND
    json_extract(value, '\$.basis') NOT NULL AND json_extract(value, '\$.why') IS NULL"
  ok "$farm: whatever names its basis says why"
  holds "$(unexplained "$stages")"
  ok "$farm: every date has at least one step with a formula and inputs"
  holds "$(unexplained "$crops")"
  ok "$farm: every crop has"
  holds "$(unexplained "path = '\$.jobs'")"
  ok "$farm: every job has"
  holds "$(unexplained "fullkey = '\$.crew' OR path = '\$.crew.weeks' OR path = '\$.frost_watch.rows'")"
  ok "$farm: the crew, its weeks and what is on the frost watch have"
  holds "SELECT count(*) - count(DISTINCT value) FROM plan, json_each(t, '\$.steps')"
  ok "$farm: no step stands there twice"
done
run plan "$share/demo.yaml" --today $day --json
[ "$(query "SELECT count(*) > 100 FROM tree WHERE $stages")" = 1 ] &&
  [ "$(query "SELECT count(*) FROM tree WHERE $crops")" = 13 ]
ok "the demo farm has dates and crops to ask about"
holds "$(unexplained "path = '\$.supply.weeks' OR path = '\$.supply.rows' OR fullkey IN
  ('\$.supply', '\$.supply.total_kg', '\$.supply.first_pick', '\$.supply.last_pick')")"
ok "and its supply in all, by week and by row"
holds "SELECT count(*) FROM tree WHERE path LIKE '\$.jobs[%]' AND key = 'purpose' AND type <> 'text'"
ok "each job says its purpose"
run plan "$share/demo.yaml" --today 2027-01-20 --json
holds "$(unexplained "path = '\$.frost_watch.rows'")" &&
  [ "$(query "SELECT count(*) > 5 FROM tree WHERE path = '\$.frost_watch.rows'")" = 1 ]
ok "in winter the frost watch has its reasons"
echo "1..$n"
