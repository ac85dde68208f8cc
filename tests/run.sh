#!/bin/sh
# Sets everything up on Debian 12, builds the `dev` preset and runs all tests.
# Repeating it does only what is left to do.
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh

install_packages build tests
build dev
say "running all tests; the log will be build/dev/Testing/Temporary/LastTest.log"
ctest --preset dev --output-on-failure -j "$(job_count)"
