#!/bin/sh
# The manuals are complete, lint clean, and made from the program's own tables. Prints TAP.
caneyear=$B/check/caneyear
n=0
ok() {
  status=$?
  n=$((n + 1))
  if [ $status -eq 0 ]; then echo "ok $n - $1"; else echo "not ok $n - $1"; fi
}
export CANEYEAR_SHARE="$PWD/share"
for page in man/caneyear.1 man/caneyear.5; do
  mandoc -T lint -W warning "$page" >/dev/null
  ok "$page lints clean"
done
{ cat man/farm.head && "$caneyear" fields --mdoc && cat man/farm.foot; } | cmp -s - man/caneyear.5
ok "caneyear(5) is what the table of fields says (make manual)"
sh tests/tools/keys.sh "$caneyear" <man/caneyear.1 | cmp -s - man/caneyear.1
ok "the keys in caneyear(1) are the program's own (make manual)"
missing=
for verb in $("$caneyear" --help | sed -nE 's/^  caneyear ([a-z]+) .*/\1/p'); do
  grep -q "^.It Cm .*\b$verb\b" man/caneyear.1 || missing="$missing $verb"
  for option in $("$caneyear" $verb --help | grep -oE '(^| |\[)--[a-z-]+' | tr -d ' [' | sort -u); do
    grep -qF "Fl -${option#--}" man/caneyear.1 || missing="$missing $verb:$option"
  done
done
[ -z "$missing" ] || echo "# not in caneyear(1):$missing"
[ -z "$missing" ]
ok "every verb and option of --help stands in caneyear(1)"
missing=
for page in $("$caneyear" page --help | awk '/^Pages:/ { on = 1; next } on { print $1 }'); do
  grep -qw "^.Ql $page" man/caneyear.1 || missing="$missing $page"
done
[ -z "$missing" ] || echo "# not in caneyear(1):$missing"
[ -z "$missing" ]
ok "every page stands in caneyear(1)"
manual="${TMPDIR:-/tmp}/json.$$"
sed '/^.Sh THE PLAN AS JSON/,/^.Sh ON FIGURES/!d' man/caneyear.1 >"$manual"
missing=$("$caneyear" plan share/demo.yaml --json --today 2027-06-08 | grep -oE '"[^"]+":' |
  tr -d '":' | sort -u | while read -r name; do
    grep -qwF -- "$name" "$manual" || printf ' %s' "$name"
  done)
rm -f "$manual"
[ -z "$missing" ] || echo "# not in THE PLAN AS JSON of caneyear(1):$missing"
[ -z "$missing" ]
ok "every name of plan --json stands in caneyear(1)"
sed '1,/^## The map/d' DEVELOPERS.md | {
  sh tests/tools/map.sh >"${TMPDIR:-/tmp}/map.$$"
  cmp -s - "${TMPDIR:-/tmp}/map.$$"
  status=$?
  rm -f "${TMPDIR:-/tmp}/map.$$"
  [ $status -eq 0 ]
}
ok "the map in DEVELOPERS.md names every source file (make map)"
echo "1..$n"
