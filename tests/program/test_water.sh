#!/bin/sh
# The season's water as a person types it: the page, rain and water given, plan --json. Prints TAP.
. "$PWD/tests/support/shell.sh"

valid() { # valid FILE QUERY ANSWER: as SQLite reads it
  [ "$(sqlite3 :memory: "SELECT json_extract(readfile('$1'), '$2')")" = "$3" ]
}
widest() { # the columns of the widest line in out
  wc -L <out
}

day=2027-07-15
run import farm.cane "$share/demo.yaml"; ends 0
ok "the demo farm"

run page farm.cane water --today $day
ends 0 && says "South block, 8 rows" && says "turn 2 of 2" && says "they take turns" &&
  says "to pump" && says "Take care" && [ "$(widest)" -le 80 ]
ok "the farm's page has its zones, their turns and the season"
run page farm.cane water --today $day --row south-1
ends 0 && says "What the soil holds" && says "^ 15 Jul" && says "Its drip line" &&
  says "Nothing brings on its watering" && [ "$(widest)" -le 80 ]
ok "a row's page has its soil store and its line"
LC_ALL=C run page farm.cane water --today $day --row south-8 --why
ends 0 && says "an inch" && says "Hargreaves and Samani" && ! LC_ALL=C grep -q '[^ -~]' out
ok "a young row's page has the inch and the balance, in ASCII, and says why"

run plan farm.cane --today $day --json
ends 0 && valid out '$.water.zones[0].key' south && valid out '$.water.zones[1].turn' 2 &&
  valid out '$.water.rows[0].rule' "inch a week" && valid out '$.water.rows[0].basis' placeholder &&
  valid out '$.water.rows[0].days_of_gauge' 0
ok "plan --json has the water"
json_before=$(sqlite3 :memory: "SELECT json_extract(readfile('out'), '$.water.rows[0].depletion_today_mm.p50')")

# ---- notes
run note farm.cane rain --depth "1.2 in" --day 2027-07-14; ends 0
ok "rain is noted for the whole farm"
run note farm.cane "water given" --zone south --ran "90 min" --day 2027-07-15; ends 0
ok "water given is noted for a zone"
run note farm.cane north-1 "water given" --volume "300 gal" --day 2027-07-15; ends 0
ok "water given is noted for a row"
run note farm.cane "water given" --depth "1 in" --day 2027-07-15; ends 1 && complains "a row or a zone"
ok "water given says to what"
run note farm.cane south-1 "water given" --day 2027-07-15; ends 1 && complains "a volume"
ok "water given says how much"
run note farm.cane rain; ends 1 && complains "depth"
ok "rain says how much"
run note farm.cane bloom; ends 2
ok "anything else names a row"
run plan farm.cane --today $day --json
ends 0 && valid out '$.water.rows[0].days_of_gauge' 1 &&
  valid out '$.water.rows[0].notes_of_water_given' 1 &&
  [ "$(sqlite3 :memory: "SELECT json_extract(readfile('out'), '$.water.rows[0].depletion_today_mm.p50') < $json_before")" = 1 ]
ok "the balance follows them"
run export farm.cane --as yaml -o farm.yaml; ends 0 && grep -q "what: water given" farm.yaml &&
  run plan farm.yaml --today $day --json && valid out '$.water.rows[0].notes_of_water_given' 1
ok "they are exported and read back"

# ---- the station's wind, humidity and sun
run page farm.cane water --today $day
ends 0 && says "temperature alone: the weather has no wind, humidity and sun"
ok "without them reference ET is by temperature"
awk 'BEGIN {
  print "STATION,DATE,TMIN,TMAX,PRCP,AWND,RHAV,TSUN"
  for (i = 0; i < 44; i++)
    printf "USW00000001,2027-%02d-%02d,17.5,30.5,%.1f,2.5,70,600\n", i < 30 ? 6 : 7,
      i < 30 ? i + 1 : i - 29, i % 5 ? 0 : 8
}' >station.csv
run weather farm.cane station.csv --yes --units metric; ends 0
ok "a station with them"
run page farm.cane water --today $day
ends 0 && says "equation on 12 % of the days"
ok "with them it is by the combination equation"
run check farm.cane; ends 0
ok "the farm file is whole"

# ---- the rule
run set farm.cane zone.south.rule balance; ends 0
ok "a zone takes the balance for its rule"
run plan farm.cane --today $day
ends 0 && says "Water by the soil's balance" && says "the soil's balance: in the middle year the strip needs"
ok "then its standing rows have watering jobs, with their reason"
echo "1..$n"
