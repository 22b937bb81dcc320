# What the shell tests begin with: the sanitized program in a folder of its own, and the words in
# which they say what must hold. Sourced from the tree's top; prints TAP.
caneyear=$B/check/caneyear
share=$PWD/share
data=$PWD/tests/data
work=$(mktemp -d) && cd "$work" || exit 1
trap 'rm -rf "$work"' EXIT
export CANEYEAR_SHARE="$share" LC_ALL=C.UTF-8 LOGNAME=tester
n=0

ok() { # ok NAME: by the status before it
  status=$?
  n=$((n + 1))
  if [ $status -eq 0 ]; then echo "ok $n - $1"; else echo "not ok $n - $1"; fi
}
run() { # run COMMAND...: output in out, errors in err, status in $code
  "$caneyear" "$@" >out 2>err
  code=$?
}
ends() { [ "$code" -eq "$1" ]; }
says() { grep -qF -- "$1" out; }
complains() { [ "$(wc -l <err)" -eq 1 ] && grep -qF -- "$1" err; }
