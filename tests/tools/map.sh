#!/bin/sh
# The map of files for DEVELOPERS.md: each source file with the first sentence of its head.
# `make map` writes it behind the heading "## The map"; a test compares.
for room in base climate crop trellis water season pencil words store screen main; do
  printf '\n### %s\n\n' "$room"
  for file in src/"$room"/*.c src/"$room"/*.h; do
    [ -e "$file" ] || continue
    case $file in *.h) [ -e "${file%.h}.c" ] && continue ;; esac
    purpose=$(sed -n '2,9p' "$file" | sed -E '/\*\//q' | sed -E 's|^ ?\*+/?||; s|\*/.*$||' |
      tr '\n' ' ' |
      sed -E 's/^ +//; s/  +/ /g; s/([a-z0-9)]\.) .*$/\1/; s/[. ]+$//')
    printf -- '- `%s`: %s\n' "$(basename "$file")" "$purpose"
  done
done
