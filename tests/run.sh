#!/bin/sh
# Sets everything up on Debian 12, builds the `dev` preset and runs all tests.
# Repeating it does only what is left to do.
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh
. tests/skipped.sh

steps_in_all=3
step "the packages that the program and its tests are built from"
install_packages build tests
step "the program and its tests"
build dev
step "running all tests (about 8 minutes on two processors); the log will be build/dev/tests.log"
run_tests dev
run_as_nobody dev
summary build/dev/tests.log
