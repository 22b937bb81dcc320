#!/bin/sh
# The verbs as a person types them, on the sanitized program: what they print, what they leave on
# the disk, how they end. Prints TAP.
. "$PWD/tests/support/shell.sh"

day=2026-11-25

# ---- plan from YAML
run plan "$share/demo.yaml" --today $day
ends 0 && says "season 2027" && says "floricanes this season" && says "Pick the ripe berries"
ok "plan prints the demo farm's season"
run plan "$share/demo.yaml" --today $day --json
ends 0 && says '"rows":[' && says '"cohorts":[' && says '"p10":"2027-' && says '"basis":"placeholder"'
ok "plan --json has rows, cohorts, dates and jobs"
for farm in demo backyard; do
  run plan "$share/$farm.yaml" --today $day --season 2028
  ends 0 && says "season 2028"
  ok "plan --season goes a year on for $farm"
done
run plan "$share/blank.yaml" --today $day
ends 0
ok "the blank template is a farm that can be planned"
run plan nowhere.yaml
ends 1 && complains "nowhere.yaml"
ok "a file that is not there is one line"
if [ -c /dev/full ]; then
  for verb in "plan $share/demo.yaml" "export $share/backyard.yaml --as yaml" fields --help; do
    "$caneyear" $verb >/dev/full 2>err
    code=$?
    ends 1 && complains "could not be written"
    ok "an answer that a full disk cut off is told: ${verb%% *}"
  done
fi
run plan; ends 2 && complains "name one farm"
ok "plan without a farm is wrong usage"
run plan "$share/demo.yaml" --today 2027-02-30
ends 2 && complains "2027-02-30"
ok "a day that there is not is refused"
run plan "$share/demo.yaml" --wrong
ends 2 && complains "--wrong"
ok "an unknown option is refused"
for verb in new import plan set note done undo redo export check backup fields pencil; do
  run $verb --help
  ends 0 && says "usage: caneyear" && says "caneyear $verb"
  ok "$verb --help"
done

# ---- import
run import farm.cane "$share/demo.yaml"
ends 0 && says "14 rows" && [ -f farm.cane ]
ok "import makes a farm file"
cp farm.cane before.cane
run import farm.cane "$share/backyard.yaml"
ends 1 && cmp -s farm.cane before.cane
ok "import leaves a farm that is there alone"
printf 'caneyear: 1\nsite: {place: athens-us-tn}\nrows:\n  - {length: 9 lb, cultivar: natchez}\n' >bad.yaml
run import other.cane bad.yaml
ends 1 && complains "bad.yaml:4:14:" && [ ! -e other.cane ]
ok "a refused import names line and column and leaves no file"
run import farm.cane bad.yaml --replace
ends 1 && cmp -s farm.cane before.cane
ok "a refused replacement leaves the old file untouched"

# ---- the same farm from the file as from YAML
for farm in demo backyard blank; do
  rm -f same.cane out.yaml
  "$caneyear" import same.cane "$share/$farm.yaml" >/dev/null &&
    "$caneyear" export same.cane --as yaml -o out.yaml &&
    "$caneyear" plan "$share/$farm.yaml" --json --today $day >a.json &&
    "$caneyear" plan same.cane --json --today $day >b.json &&
    "$caneyear" plan out.yaml --json --today $day >c.json &&
    cmp -s a.json b.json && cmp -s a.json c.json
  ok "$farm: the same plan from the YAML, the file and the export"
  rm -f again.cane
  "$caneyear" import again.cane out.yaml >/dev/null &&
    "$caneyear" export again.cane --as yaml >again.yaml && cmp -s out.yaml again.yaml
  ok "$farm: the same YAML after a second round"
done

# ---- set, undo, redo
run set farm.cane row.south-1.spacing "4 ft"
ends 0 && "$caneyear" export farm.cane --as yaml | grep -q "spacing: 4 ft"
ok "set changes a value"
run set farm.cane row.south-1.spacing "4 lb"
ends 1 && complains 'row south-1, spacing: "4 lb"'
ok "a value of the wrong kind is refused in a line"
run set farm.cane row.south-1.spacing "900 ft"
ends 1 && complains "900 ft"
ok "a value out of range is refused"
run set farm.cane row.nowhere.spacing "4 ft"
ends 1 && complains "nowhere"
ok "an address that names nothing is refused"
run set farm.cane row.south-1.cultivar nobody
ends 1 && complains "nobody"
ok "a reference to nothing is refused"
run undo farm.cane
ends 0 && says "row.south-1.spacing"
ok "undo says what it took back"
"$caneyear" export farm.cane --as yaml >now.yaml
"$caneyear" export before.cane --as yaml >then.yaml
cmp -s now.yaml then.yaml
ok "undo restores the farm byte for byte"
run redo farm.cane
ends 0 && "$caneyear" export farm.cane --as yaml | grep -q "spacing: 4 ft"
ok "redo makes it again"
run import farm.cane "$share/backyard.yaml" --replace
ends 0 && run undo farm.cane && ends 0 && says " more" &&
  "$caneyear" export farm.cane --as yaml | grep -q "key: south-1"
ok "a replacement is one step that undo takes back"
LOGNAME=another
run undo farm.cane
ends 1 && complains "undo"
ok "nobody undoes another's steps"
run redo farm.cane
ends 1 && complains "nothing to redo"
ok "a redo without an undo says so"
LOGNAME=tester

# ---- records
run plan farm.cane --json --today 2027-05-20
cp out unseen.json
run note farm.cane south-1 "full bloom" --day 2027-05-02
ends 0 && run plan farm.cane --json --today 2027-05-20 && grep -q '"p50":"2027-05-02"' out &&
  ! cmp -s out unseen.json
ok "a bloom that was noted replaces the model's date"
run note farm.cane south-1 "cane height" --day 2027-05-10 --height "30 in"
ends 0
ok "a height is noted with its unit"
run note farm.cane south-1 "cane height" --day 2027-05-10
ends 1 && complains "height"
ok "a height without a height is refused"
run note farm.cane south-1 nonsense
ends 1 && complains "nonsense"
ok "something that cannot be seen is refused"
run done farm.cane thin-canes south-3 --day 2027-02-01 --hours 6
ends 0 && run plan farm.cane --json --today 2027-05-20 && grep -q '"done":"2027-02-01"' out
ok "work done is marked in the plan"
run done farm.cane first-tip.south-3.2027 --day 2399-05-19
ends 0 && complains "lies after today"
ok "a day after today is kept, with a warning"
run done farm.cane first-tip.south-3.2027 --day 2027-05-19
ends 0
ok "work is named by the plan's own key"
run undo farm.cane
"$caneyear" export farm.cane --as yaml | grep -q "full bloom"
ok "undo leaves records alone"

# ---- check, backup, odd files
run check farm.cane --today 2027-05-20
ends 0 && says "farm.cane: whole"
ok "check finds the file whole and names the risks"
run backup farm.cane copy.cane
ends 0 && "$caneyear" export copy.cane --as yaml >copy.yaml &&
  "$caneyear" export farm.cane --as yaml >farm.yaml && cmp -s copy.yaml farm.yaml
ok "a backup holds the same farm"
run backup farm.cane copy.cane
ends 1 && complains "copy.cane"
ok "a backup never overwrites"
: >empty.cane; run plan empty.cane; ends 1 && complains "empty.cane" && [ ! -s empty.cane ]
ok "an empty file is its own sentence"
printf 'not a farm at all, only words to fill more than a header of SQLite would take up here' >words.cane
run check words.cane; ends 1 && complains "words.cane"
ok "a file of words is no farm"
sqlite3 foreign.cane "create table t(x); insert into t values (1)"
run plan foreign.cane; ends 1 && complains "foreign.cane"
ok "another program's database is no farm"
cp farm.cane future.cane && sqlite3 future.cane "pragma user_version = 99" >/dev/null
cp future.cane future.copy
run set future.cane farm.name "x"; ends 1 && complains "future.cane" && cmp -s future.cane future.copy
ok "a farm from the future is refused and left alone"
head -c 20000 farm.cane >cut.cane
run plan cut.cane; ends 1 && complains "cut.cane"
ok "a farm cut short is refused"

# ---- new
run new patch.cane --place hamilton --name "Back fence" --rows 3 --length "30 ft" \
  --cultivar navaho --planted 2026-03-15
ends 0 && says "3 rows" && run plan patch.cane --today $day && says "Row 3"
ok "new makes a farm from options"
run new nowhere.cane --place atlantis
ends 2 && grep -q "atlantis" err && [ ! -e nowhere.cane ]
ok "new refuses a place that nobody knows"
run new nowhere.cane </dev/null
ends 2 && grep -q "a place must be given" err && [ ! -e nowhere.cane ]
ok "new without a place says so"
run new patch.cane --place hamilton
ends 1 && complains "patch.cane"
ok "new never overwrites"

# ---- hostile names, locales, pipes
printf 'caneyear: 1\nfarm: {name: "a\\u001b[2Jb"}\nsite: {place: athens-us-tn}\n' >esc.yaml
run plan esc.yaml; ends 1 && ! grep -q "$(printf '\033')" out err
ok "an escape in a name reaches no terminal"
LC_ALL=de_DE.UTF-8 "$caneyear" plan "$share/demo.yaml" --json --today $day >comma.json 2>/dev/null
"$caneyear" plan "$share/demo.yaml" --json --today $day >point.json
cmp -s comma.json point.json
ok "a comma locale changes no number"
LC_ALL=C "$caneyear" plan "$share/demo.yaml" --today $day | LC_ALL=C grep -q '[^ -~]'
[ $? -eq 1 ]
ok "in the C locale the plan is plain ASCII"
run nonsense; ends 2 && complains "nonsense"
ok "an unknown verb is wrong usage"
run --help; ends 0 && says "caneyear FARM.cane"
ok "--help lists the verbs"
run fields rows; ends 0 && says "cultivar"
ok "fields lists what a row can say"
run farm.cane </dev/null; ends 2 && grep -q "terminal" err
ok "the planner says that it needs a terminal"
echo "1..$n"
