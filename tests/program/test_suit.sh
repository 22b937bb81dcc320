#!/bin/sh
# caneyear suit, and the supply in caneyear plan, as a person types them. Prints TAP.
. "$PWD/tests/support/shell.sh"
valid() { # valid FILE QUERY ANSWER: as SQLite reads it
  [ "$(sqlite3 :memory: "SELECT json_extract(readfile('$1'), '$2')")" = "$3" ]
}

day=2026-11-25

run suit --help
ends 0 && says "usage: caneyear suit"
ok "suit --help"
run suit; ends 2 && complains "name one farm"
ok "suit without a farm is wrong usage"
run suit nowhere.yaml; ends 1 && complains "nowhere.yaml"
ok "a file that is not there is one line"
run suit "$share/demo.yaml" --today 2027-02-30; ends 2 && complains "2027-02-30"
ok "a day that there is not is refused"
for farm in demo backyard blank; do
  run suit "$share/$farm.yaml" --today $day
  ends 0 && says "SITE" && says "Chester Thornless" && says "REASONS" && [ ! -s err ]
  ok "suit prints the table of $farm"
  [ "$(awk 'length > 80' out | wc -l)" -eq 0 ]
  ok "$farm: no line is longer than 80 columns"
done
run suit "$share/demo.yaml" --today $day
grep -qE "^[+][0-9]+ +Natchez " out && says "    Reuben " && says "no data  no chill need is published or typed"
ok "ranked cultivars have a number, the others none"
LC_ALL=C run suit "$share/demo.yaml" --today $day
ends 0 && ! LC_ALL=C grep -q '[^ -~]' out
ok "in a locale without UTF-8 all is ASCII"
run suit "$share/demo.yaml" --today $day --json
ends 0 && valid out '$.cultivars[0].rank' 1 && valid out '$.site.drainage.mark' good &&
  valid out '$.cultivars[0].marks.chill.own_figure' 1 &&
  valid out '$.cultivars[0].marks.winter.why[0].what' "winter kill, share of years"
ok "suit --json has ranks, marks and traces"
"$caneyear" import farm.cane "$share/demo.yaml" >/dev/null &&
  "$caneyear" suit farm.cane --today $day --json | cmp -s - out
ok "the same from the farm file as from the YAML"
printf 'caneyear: 1\nfarm: {name: B\303\244renhof}\nsite: {place: athens-us-tn}\n' >bear.yaml
LC_ALL=C run suit bear.yaml --today $day
ends 0 && says "B?renhof"
ok "what the locale cannot show becomes a question mark"

run plan "$share/demo.yaml" --today $day
ends 0 && says "SUPPLY" && says "week of 5 Jul 2027" && says "THIN"
ok "plan says what there is to sell week by week"
run plan "$share/demo.yaml" --today $day --json
ends 0 && valid out '$.supply.weeks[0].selling' 0 && valid out '$.supply.rows[0].key' south-1 &&
  valid out '$.supply.rows[0].longest_interval_days' 4
ok "plan --json has the supply"
"$caneyear" import slow.cane "$share/demo.yaml" >/dev/null &&
  "$caneyear" set slow.cane practice.semi-erect.pick_every "9 d" >/dev/null
run plan slow.cane --today $day
ends 0 && says "North 1, picked every 9 days, loses" && says "every 4 days it would lose next to none"
ok "plan says what is lost where picking waits too long"
echo "1..$n"
