#!/bin/sh
# api_reference.sh DOXYGEN SOURCE WORK: makes the reference of the public headers into WORK/html.
# Ends with 1 where doxygen has anything to warn of: above all, what is not documented.
set -eu
doxygen=$1 source=$2 work=$3

rm -rf "$work"
mkdir -p "$work"
cd "$source"
{ cat docs/Doxyfile && echo "OUTPUT_DIRECTORY = \"$work\""; } |
  "$doxygen" - > "$work/log" 2> "$work/warnings" || echo "doxygen fails" >> "$work/warnings"
if [ -s "$work/warnings" ]; then
  cat "$work/warnings" >&2
  exit 1
fi
for page in plan_8h read__scene_8h structstandpoint_1_1Plan; do
  find "$work/html" -name "*$page.html" | grep -q . || {
    echo "api_reference.sh: no page of $page" >&2
    exit 1
  }
done
