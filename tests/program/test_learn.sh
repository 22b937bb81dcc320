#!/bin/sh
# What notes of past seasons teach the plan, as a person sees it. Prints TAP.
. "$PWD/tests/support/shell.sh"
day=2026-11-25
value() { # of the heat to bloom that is learned of Ouachita
  sqlite3 :memory: "SELECT json_extract(value, '$1') FROM json_each(readfile('out'), '\$.learned')
    WHERE json_extract(value, '\$.cultivar') = 'ouachita'
      AND json_extract(value, '\$.what') = 'heat to half bloom'"
}

# Station weather of six seasons, made from a formula: a warm day in July, a cold one in January.
sqlite3 :memory: "WITH RECURSIVE d(t) AS (VALUES (0) UNION ALL SELECT t + 1 FROM d WHERE t < 2500)
  SELECT date('2020-01-01', t || ' days') FROM d" |
  awk 'BEGIN { print "DATE,TMAX,TMIN,PRCP" }
    { m = 60 - 22 * cos(6.2832 * (NR - 15) / 365.25) + 6 * sin(NR)
      printf "%s,%.1f,%.1f,%.2f\n", $1, m + 11, m - 11, (NR % 4 == 0) * 0.4 }' >station.csv

"$caneyear" import farm.cane "$share/demo.yaml" >/dev/null
run page farm.cane learned --today $day --row south-5
ends 0 && says "Nothing yet: the catalogue's values stand."
ok "a row without notes has the catalogue's values"

"$caneyear" weather farm.cane station.csv --units us --yes >/dev/null 2>err
ok "a station's six years are taken in"
for year in 2021 2022 2023 2024 2025 2026; do
  "$caneyear" note farm.cane south-3 "full bloom" --day $year-05-2$((year - 2020)) >/dev/null
done
run plan farm.cane --today $day --json
before=$(value '$.catalogue') after=$(value '$.learned')
[ "$(value '$.full_seasons')" = 6 ] && [ "${after%.*}" -gt "${before%.*}" ] &&
  [ "$(value '$.basis')" = learned ] &&
  [ -n "$(value '$.why[0]')" ]
ok "six late blooms raise the need, with their trace in JSON"
run page farm.cane learned --today $day --row south-4
ends 0 && says "catalogue: 17100 K.h" && says "6 seasons behind it" &&
  says "days, by this farm's own seasons; published: 10.4"
ok "the page shows catalogue, learned value, seasons, and whose spread counts"
[ "$(awk 'length > 80' out | wc -l)" -eq 0 ]
ok "no line of it is longer than 80 columns"
run note farm.cane south-3 "night low" --day 2026-04-10; ends 1 && complains "low"
ok "a night low without its temperature is refused"
run note farm.cane south-3 "night low" --day 2026-04-10 --low 20F; ends 0
run page farm.cane learned --today $day --row south-3
ends 0 && says "nights colder than the station's" && says "1 night in 1 season compared"
ok "a night low moves how much colder the row is"
echo "1..$n"
