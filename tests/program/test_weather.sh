#!/bin/sh
# caneyear weather as a person types it, on the sanitized program: what it shows of a station's
# file, what it asks, what the plan makes of it, and that Ctrl-C leaves the farm alone. Prints TAP.
. "$PWD/tests/support/shell.sh"

run import farm.cane "$share/demo.yaml"; ends 0
ok "a farm to begin with"

# ---- a real station
run weather farm.cane "$data/weather/seattle.csv"
ends 0 && says "Seattle: 1461 days, 2012-01-01 to 2015-12-31" && says "C and mm" &&
  says "2012-01-02  low 37.0 F    high 51.1 F    rain 0.43 in" && says "4 complete years" &&
  says "Added: 1461 new days"
ok "it shows what it understood and takes the days in"
cp farm.cane before.cane
run weather farm.cane "$data/weather/seattle.csv"
ends 0 && says "Nothing changed" && cmp -s farm.cane before.cane
ok "loading the same file twice changes nothing"
run plan farm.cane --today 2016-03-03
ends 0 && says "Over 60 weathers: 4 past years of a station, 56 made"
ok "the plan says how many years of the station it rests on"
run plan farm.cane --today 2014-03-03
ends 0 && says "2 past years of a station, 58 made"
ok "with an earlier day, only the years before it"
run export farm.cane --as json --today 2016-03-03; ends 0 && says '"past_years":4'
ok "so does the export"
run check farm.cane --today 2016-03-03; ends 0
ok "the file is whole"
run export farm.cane --as yaml -o farm.yaml; ends 0 && grep -q "station: seattle-1" farm.yaml
ok "YAML names the weather"
run import farm.cane farm.yaml --replace; ends 0 &&
  run plan farm.cane --today 2016-03-03 && says "4 past years"
ok "a replacement from YAML leaves it"
run import other.cane farm.yaml; ends 0 && run check other.cane && says "does not hold the weather seattle-1"
ok "in another file that name stands for nothing, and check says so"

# ---- conflicts
sed 's/^Seattle,2012-01-02,10.9,10.6,2.8/Seattle,2012-01-02,10.9,11.6,2.8/' "$data/weather/seattle.csv" >newer.csv
echo "Seattle,2016-01-01,0.0,7.5,-1.5" >>newer.csv
run weather farm.cane newer.csv
ends 0 && says "1 conflict with" && says "high 51.1 F" && says "high 52.9 F" && says "The older figures stay" &&
  says "Added: 1 new day, 0 changed"
ok "a newer file adds its days; what conflicts is shown and stays"
run weather farm.cane newer.csv --newer-wins
ends 0 && says "This file's figures were taken" && says "0 new days, 1 changed"
ok "the newer wins when asked"
run weather farm.cane "$data/weather/new-york.csv"
ends 0 && says "The plan rested on Seattle and now rests on this station alone"
ok "another station takes its place"
run undo farm.cane; ends 0 && run undo farm.cane; ends 0 && run undo farm.cane; ends 0
run weather farm.cane "$data/weather/seattle.csv"; ends 0 && says "Nothing changed"
ok "undo points back, step by step"

# ---- units
printf 'DATE,TMAX,TMIN,PRCP\n2020-06-01,30,20,0\n2020-06-02,31,21,2\n' >whole.csv
cp farm.cane before.cane
"$caneyear" weather farm.cane whole.csv >out 2>err </dev/null; code=$?
ends 1 && says "a guess" && complains "--units" && cmp -s farm.cane before.cane
ok "a doubtful guess is not taken without a word"
run new small.cane --place athens-us-tn --units metric
run weather small.cane whole.csv --units us
ends 0 && says "as told" && says "high -1.1 C"
ok "it is told the units"
run weather small.cane whole.csv --yes
ends 0 && says "2 conflicts with"
ok "or told to take the guess"
run weather small.cane whole.csv --units feet; ends 2 && complains "feet"
ok "units that there are not"

# ---- the fixed-width form
line() { # line MONTH ELEMENT VALUE: 31 days
  printf 'USW000939862021%s%s' "$1" "$2"
  for day in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25 26 27 28 29 30 31; do
    printf '%5d  6' "$3"
  done
  printf '\n'
}
{ line 01 TMAX 128; line 01 TMIN 50; line 01 PRCP 12; line 03 TMAX 228; line 03 TMIN -150; } |
  sed '2s/   50  6/   50 I6/' >station.dly
run weather small.cane station.dly
ends 0 && says "USW00093986: 89 days" && says "tenths" && says "1 value not used" &&
  says "Longer gaps: 28 days missing; the longest is 28 from 2021-02-01" && says "0 complete years"
ok "the fixed-width form, a failed check, a long gap"

# ---- what is wrong
run weather farm.cane nowhere.csv; ends 1 && complains "nowhere.csv"
ok "a file that is not there"
run weather nowhere.cane whole.csv; ends 1 && complains "nowhere.cane"
ok "a farm that is not there"
run weather farm.cane; ends 2 && complains "give a farm file"
ok "wrong usage"
printf 'location,date,temp_max,temp_min\nA,2020-06-01,30.5,20\nB,2020-06-01,31.5,21\n' >two.csv
run weather small.cane two.csv; ends 1 && complains "two.csv:3:1"
ok "two stations in a file"
run weather small.cane two.csv --station b; ends 0 && says "B: 1 day,"
ok "the one that is asked for"
run weather --help; ends 0 && says "usage: caneyear weather"
ok "weather --help"

# ---- stopped
awk 'BEGIN { print "STATION,NAME,DATE,TMAX,TMIN,PRCP"; pad = sprintf("%300s", ""); gsub(" ", "x", pad)
  for (year = 1801; year < 2200; year++) for (month = 1; month <= 12; month++)
    for (day = 1; day <= 28; day++)
      printf "S,%s,%d-%02d-%02d,20.5,10.5,0\n", pad, year, month, day }' >long.csv
cp farm.cane before.cane
"$caneyear" weather farm.cane long.csv >out 2>err & pid=$!
tries=0 # until it catches the signal, which stands in its status as bit 1
until [ $((0x$(sed -n 's/^SigCgt:.*\(.\)$/\1/p' /proc/$pid/status 2>/dev/null || echo 0) & 2)) -eq 2 ] ||
  [ $tries -ge 1000 ] || ! kill -0 $pid 2>/dev/null; do tries=$((tries + 1)); sleep 0.01; done
kill -INT $pid; wait $pid; code=$?
ends 1 && complains "stopped; nothing was changed" && cmp -s farm.cane before.cane && [ ! -e farm.cane-journal ]
ok "Ctrl-C stops it and leaves the farm as it was"
echo "1..$n"
