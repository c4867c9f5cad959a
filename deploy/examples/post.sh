#!/bin/sh
# Writes speeds and feeds of a list of operations as lines of an NC program.
#
#     SWARF_SERVER=http://127.0.0.1:8080 MACHINE=vmc-40 sh post.sh operations.txt part.nc
#
# Each operation is recommended, its numbers are rounded down to whole ones as the control
# takes them, and the rounded ones are estimated again. With any hold or refusal there is no
# program at all; warnings stand in it as comments. A person who knows the machine reads it
# before it runs: the limits of machine, tool and work holding come first.
#
# Exit codes: 0 written, 4 refused, 5 no answer, 2 wrong usage. Needs curl.
set -u
server=${SWARF_SERVER:-http://127.0.0.1:8080}
machine=${MACHINE:-vmc-40}
[ $# = 2 ] || { echo "usage: sh post.sh operations.txt part.nc" >&2; exit 2; }

# ask QUESTION MEMBERS prints the answer as key=value lines, complete, or ends the program.
ask() {
	status=$(curl -sS --max-time 20 --retry 3 -o "$part.answer" -w '%{http_code}' ${SWARF_API_KEY:+-H "Authorization: Bearer $SWARF_API_KEY"} \
		"$server/v1/$1?units=metric&machine=$machine&$2&format=text") || return 5
	case $status in 429 | 5*) echo "the server answers $status" >&2; return 5 ;; esac
	text=$(cat "$part.answer")
	# The last line says how many there are: fewer is an answer cut short.
	if [ "$(value lines)" != "$(printf '%s\n' "$text" | wc -l | tr -d ' ')" ]; then
		echo "the answer was cut short" >&2
		return 5
	fi
}

# value KEY prints what the last answer says.
value() { printf '%s\n' "$text" | sed -n "s/^$1=//p"; }

# told SEVERITIES prints the codes of findings, one a line.
told() {
	printf '%s\n' "$text" | sed -n "s/^\(findings\[[0-9]*\]\)\.severity=\($1\)\$/\1/p" | while read -r at; do
		value "$(printf '%s' "$at" | sed 's/[][]/\\&/g')\.code"
	done
}

# refused prints why and remembers it.
refused() {
	echo "$ref: $(value detail)$(told 'refusal' | tr '\n' ' ')$(told 'hold' | tr '\n' ' ')" >&2
	bad=4
}

bad=0
rm -f "$2" # that of last time is not the one that was asked for
part=$2.part
: >"$part" || exit 1
trap 'rm -f "$part" "$part.answer"' EXIT
while read -r line; do
	case $line in '' | '#'*) continue ;; esac
	members=$(printf '%s' "$line" | tr -s ' \t' '&&')
	ref=$(printf '%s' "$line" | sed -n 's/.*ref=\([^ ]*\).*/\1/p')
	operation=$(printf '%s' "$line" | sed -n 's/.*operation=\([^ ]*\).*/\1/p')
	ask recommendations "$members" || exit $?
	if [ "$(value verdict)" != yes ]; then refused; continue; fi
	speed=$(value 'parameters\.spindle_speed')
	feed=$(value 'parameters\.feed_rate')
	revision=$(value data_revision)
	speed=${speed%%.*}
	feed=${feed%%.*}
	kept=$(printf '%s' "$members" | tr '&' '\n' | sed '/^cutting_speed=/d; /^feed_per_/d' | tr '\n' '&')
	ask estimates "${kept%&}&spindle_speed=$speed&feed_rate=$feed" || exit $?
	if [ "$(value verdict)" != yes ]; then refused; continue; fi
	[ "$(value data_revision)" = "$revision" ] || { echo "the data changed between two answers; ask again" >&2; exit 5; }
	{
		echo "($ref $operation, data revision $revision)"
		told warning | sed 's/.*/(WARNING &)/'
		echo "G94 G97 S$speed F$feed"
	} >>"$part"
done <"$1"
[ "$bad" = 0 ] || exit "$bad"
mv "$part" "$2"
