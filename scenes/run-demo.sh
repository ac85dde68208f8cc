#!/bin/sh
# Sets everything up on Debian 12, builds the program alone (the preset `demo`) and plans the demo.
# Repeating it does only what is left to do.
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh

steps_in_all=3
step "the packages that the program is built from"
install_packages build
step "the program and its page, without tests"
build demo standpoint
program=build/demo/io/standpoint
out=out/demo
step "planning scenes/demo/scene.json (a few seconds)"
status=0
"$program" plan scenes/demo/scene.json -o "$out" || status=$?
# 1 is a good plan too: it says that a required feature cannot be reached, and why.
[ "$status" -le 1 ] || fail "planning failed (exit $status)"
say "the result is in $out: open $out/page.html; plan.json, stations.csv and touches.csv lie beside it"
