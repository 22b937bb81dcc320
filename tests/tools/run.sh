#!/bin/sh
# Run every test named on the command line (cmocka binaries and scripts that print TAP),
# show what failed, and end with one line: N passed, M failed.
logs=$B/check/log
rm -rf "$logs" && mkdir -p "$logs"
export B CMOCKA_MESSAGE_OUTPUT=TAP
export ASAN_OPTIONS=detect_leaks=1:abort_on_error=0 UBSAN_OPTIONS=print_stacktrace=1

one='
log=$LOGS/$(echo "$1" | sed "s|.*tests/||; s|/|-|g").tap
case $1 in *.sh) sh "$1" ;; *) "$1" ;; esac >"$log" 2>&1 </dev/null
status=$?
bad=$(grep -c "^not ok" "$log")
if [ $status -ne 0 ] && [ "$bad" -eq 0 ]; then
  echo "not ok - $1 ended with status $status" >>"$log"
fi
if [ $status -ne 0 ] || [ "$bad" -ne 0 ]; then
  echo "FAILED $1"; tail -n 60 "$log"
fi
'
LOGS=$logs; export LOGS
printf '%s\n' "$@" | xargs -P "$(nproc 2>/dev/null || echo 2)" -I{} sh -c "$one" sh {}

passed=$(cat "$logs"/*.tap | grep -c '^ok')
failed=$(cat "$logs"/*.tap | grep -c '^not ok')
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
