#!/bin/sh
# Hold the rooms to their walls: rooms.sh LIBRARY "room:allowed allowed" ...
# Fails if a file includes a room that its own may not use, or if the engine library needs
# input, output, the clock, the environment, the locale or hidden randomness, or can write to
# anything that outlives a call.
library=$1; shift
bad=0
for entry in "$@"; do
  room=${entry%%:*}
  allowed=" $room ${entry#*:} "
  for file in src/"$room"/*.[ch] include/caneyear/"$room"/*.h; do
    [ -e "$file" ] || continue
    for used in $(sed -nE 's/^ *# *include *[<"](caneyear\/)?([a-z]+)\/[a-z_]+\.(h|def)[>"].*/\2/p' "$file"); do
      case $used in sys|curses) continue ;; esac
      case $allowed in
        *" $used "*) ;;
        *) echo "$file: the room $room may not include $used (allowed:$allowed)"; bad=1 ;;
      esac
    done
  done
done
forbidden=$(nm -u "$library" | awk '{print $2}' | sort -u |
  grep -xE '(f?open|fdopen|fopen64|[vfsd]*n?printf|puts|fputs|fputc|putchar|fwrite|fread|read|write|time|clock|clock_gettime|gettimeofday|localtime|gmtime|getenv|s?rand(om)?|setlocale|newlocale|strto[dfl]|strtold|atof|v?s?scanf|signal|exit|abort|__[a-z]*printf_chk)')
if [ -n "$forbidden" ]; then
  echo "the engine library needs what it must not:" $forbidden; bad=1
fi
# Tables of pointers stand in .data.rel.ro; what can be written stands in .data and .bss.
kept=$(size -A "$library" | awk '/:$/ {file = $1}
  $1 ~ /^\.t?(data|bss)/ && $1 !~ /rel\.ro/ && $2 > 0 {print file}' | sort -u)
if [ -n "$kept" ]; then
  echo "the engine library keeps something between calls:" $kept; bad=1
fi
exit $bad
