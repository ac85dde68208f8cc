#!/bin/sh
# All tests in every form of the program: by the other compiler, under the sanitizers, as released,
# and the demo's plan byte for byte the same in all of them. Hours: for the night. .ci/run takes
# one part of it each time.
#
#     sh tests/run-all.sh            everything
#     sh tests/run-all.sh --list     the parts
#     sh tests/run-all.sh --ci       the numbers of those that .ci/run takes in turn
#     sh tests/run-all.sh N          part N alone, N from 1
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh
. tests/skipped.sh
. tests/checks.sh

# One part a line: what is done, with which preset, what is built, which share of its files of tests
# is compiled and run ("-": all of them). Tests are found by their labels, the executables' names.
# "ci": .ci/run takes these in turn; mark a part so once it has been seen to pass in its time. "night": not yet.
# Minutes of two quiet processors from an empty compiler cache, compiling and tests, for reading only. `asan` is built by
# the other compiler, so its tests are also those of the other compiler.
parts="
tests  asan    geometry_tests,structure_tests                    -    9  night
tests  asan    planner_tests                                     1/3  8  night
tests  asan    planner_tests                                     2/3  8  night
tests  asan    planner_tests                                     3/3  8  night
tests  asan    io_tests                                          1/3  8  night
tests  asan    io_tests                                          2/3  8  night
tests  asan    io_tests                                          3/3  8  night
tests  asan    scene_tests,program_tests                         -    8  night
tests  tsan    planner_tests                                     1/3  6  night
tests  tsan    planner_tests                                     2/3  6  night
tests  tsan    planner_tests                                     3/3  6  night
bytes  release -                                                 -    6  ci
bytes  demo    -                                                 -    4  ci
"

# What runs in parallel: the tests whose subject holds a parallel loop. The whole of planner_tests
# under the thread sanitizer takes an hour and finds no more.
in_parallel='ReachTable|Ties|PlanNetwork|Unreached|SubsetSearch|RaiseSites|NestJudge|Rehearsal|WhatIf|Why|StylusRoom|FeatureBudgets'

part_count() { printf '%s' "$parts" | grep -c .; }
part() { printf '%s' "$parts" | grep . | sed -n "$1p"; }

# tests_part PRESET TARGETS SHARE
tests_part() {
  [ "$3" = - ] || test_part=$3
  # shellcheck disable=SC2046  # a list of words
  build "$1" $(echo "$2" | tr ',' ' ')
  test_part=
  targets=$2
  set -- "$1" -L "^($(echo "$2" | tr ',' '|'))\$"
  [ "$1" != tsan ] || set -- "$@" -R "$in_parallel"
  run_tests "$@"
  case $targets in
    *io_tests*) run_as_nobody "$1" ;;
  esac
}

# hash_of FOLDER FILE...: files of a plan as one number.
hash_of() (
  cd "$1"
  shift
  cat "$@" | sha256sum | cut -d ' ' -f 1
)

# bytes_of PRESET THREADS: plans the demo and holds its hash against the first one.
bytes_of() {
  out=build/bytes/$1-$2
  status=0
  "build/$1/io/standpoint" plan scenes/demo/scene.json -o "$out" --threads "$2" --quiet || status=$?
  [ "$status" -le 1 ] || fail "planning the demo with $1 on $2 threads failed (exit $status)"
  # shellcheck disable=SC2086  # a list of words
  hash=$(hash_of "$out" $bytes_files)
  say "$hash  $1, $2 threads"
  [ -n "${first_hash:-}" ] || first_hash=$hash
  [ "$hash" = "$first_hash" ] || fail "the demo's plan is not the same: compare the folders in build/bytes"
}

# bytes_part PRESET: the same scene, the same bytes, by `dev` and by another preset, on 1, 2 and 8
# threads. WebAssembly is held against the program by the test page.PlannerPlansUnderNode of `dev`.
# The page holds the engine, which is the same file in each build but that of the demo.
bytes_part() {
  first_hash=
  bytes_files="plan.json stations.csv touches.csv"
  [ "$1" = demo ] || bytes_files="$bytes_files page.html"
  for preset in dev "$1"; do
    build "$preset" standpoint
    for threads in 1 2 8; do
      bytes_of "$preset" "$threads"
    done
  done
}

run_part() {
  # shellcheck disable=SC2046  # a list of words
  set -- $(part "$1")
  case $1 in
    tests) tests_part "$2" "$3" "$4" ;;
    bytes) bytes_part "$2" ;;
  esac
}

count=$(part_count)
case ${1:-all} in
  --ci)
    i=1
    while [ "$i" -le "$count" ]; do
      case $(part $i) in *" ci") echo "$i" ;; esac
      i=$((i + 1))
    done
    exit 0
    ;;
  --list)
    i=1
    while [ "$i" -le "$count" ]; do
      echo "$i: $(part $i)"
      i=$((i + 1))
    done
    exit 0
    ;;
  all)
    wanted=$(seq 1 "$count")
    steps_in_all=$((count + 2))
    ;;
  *)
    [ "$1" -ge 1 ] && [ "$1" -le "$count" ] || fail "there is no part $1: see sh tests/run-all.sh --list"
    wanted=$1
    steps_in_all=2
    ;;
esac
step "the packages that all forms are built from"
install_packages build tests developers nightly
for number in $wanted; do
  # shellcheck disable=SC2046  # a list of words
  step "part $number of $count: $(echo $(part "$number"))"
  run_part "$number"
done
if [ "${1:-all}" = all ]; then
  step "clang-tidy on all folders"
  configure clang
  rooms_to_lint clang | lint_rooms clang
fi
