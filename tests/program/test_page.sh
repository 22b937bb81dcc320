#!/bin/sh
# caneyear page, as a person types it. Prints TAP.
. "$PWD/tests/support/shell.sh"
day=2027-06-14

run page --help
ends 0 && says "usage: caneyear page" && says "  supply "
ok "page --help lists the pages"
run page "$share/demo.yaml"; ends 2 && complains "one page"
ok "page without a page is wrong usage"
run page "$share/demo.yaml" nothing; ends 2 && complains "nothing"
ok "a page that there is not is named"
run page "$share/demo.yaml" supply --row nowhere; ends 2 && complains "nowhere"
ok "a row that there is not is named"
for page in $("$caneyear" page --help | awk '/^Pages:/ { on = 1; next } on { print $1 }'); do
  run page "$share/demo.yaml" "$page" --today $day
  ends 0 && [ -s out ] && [ ! -s err ]
  ok "page $page of the farm"
  run page "$share/demo.yaml" "$page" --today $day --row south-1 --why
  ends 0 && [ -s out ] && [ ! -s err ]
  ok "page $page of a row, with what stands behind it"
  LC_ALL=C run page "$share/backyard.yaml" "$page" --today $day
  ends 0 && ! LC_ALL=C grep -q '[^ -~]' out
  ok "page $page of the backyard, in ASCII"
done
run plan "$share/demo.yaml" --json --today $day
ends 0 && says '"sun":{"mean_hours":' && says '"layout":{"state":"proposed"' &&
  says '"frost":{"from":' && says '"frost_watch":{' && says '"left_face_hours":'
ok "plan --json has what the pages of sun, layout and frost show"
run page "$share/demo.yaml" layout --today $day
ends 0 && says 'most length of row at 8 deg' # the site's own bearing counts among the compared
ok "the layout's best bearing is the best of all that are shown"
run page "$share/backyard.yaml" layout --today $day
ends 0 && says "corners:" && says "x: 120 ft" && grep -q "x is east and y north$" out &&
  grep -q "^of the field's corner, as" out
ok "without an outline the page says how to give one, in lines that are full"
sed 's/^  name: Behind the house/&\n  units: metric/' "$share/backyard.yaml" >metric.yaml
run page metric.yaml layout --today $day
ends 0 && says "x: 40 m" && ! says " ft"
ok "in metres where the farm is metric"
run page "$share/demo.yaml" layout --today $day
ends 0 && says "most length of row at 8 deg"
ok "the site's own bearing is among those compared"
echo "1..$n"
