#!/bin/sh
# The manual on standard input with its list of keys as the program has them: keys.sh PROGRAM
awk -v program="$1" '
/^\.\\" keys from here/ {
  print
  print ".Bl -tag -width Ds"
  while (((program " fields --keys") | getline line) > 0) {
    tab = index(line, "\t")
    print ".It Ic \\&" substr(line, 1, tab - 1)
    print substr(line, tab + 1)
  }
  print ".El"
  skip = 1
}
/^\.\\" to here/ { skip = 0 }
!skip && !/keys from here/
'
