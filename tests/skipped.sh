# What was left out of a test run. Sourced by tests/run.sh and tests/run-all.sh after setup.sh.

# tell_skipped LOG: counts and names the tests that ctest's log tells as skipped; fails where one
# of them is not named in tests/may-skip.txt.
tell_skipped() {
  skipped=$(sed -n 's/^[[:space:]]*[0-9]* - \(.*\) (Skipped)$/\1/p' "$1")
  if [ -z "$skipped" ]; then
    say "0 tests were skipped"
    return 0
  fi
  say "$(printf '%s\n' "$skipped" | wc -l) tests were skipped:"
  unexpected=0
  for name in $(printf '%s\n' "$skipped" | tr ' ' '_'); do
    reason=$(reason_to_skip "$name")
    if [ -n "$reason" ]; then
      say "  $name: $reason"
    else
      unexpected=$((unexpected + 1))
      say "  $name: not named in tests/may-skip.txt"
    fi
  done
  say "$unexpected of them unexpectedly"
  [ "$unexpected" = 0 ] || fail "tests were skipped that should have run"
}

reason_to_skip() {
  sed -n '/^[^#]/p' tests/may-skip.txt | while IFS= read -r line; do
    if printf '%s\n' "$1" | grep -Eq -e "${line%% : *}"; then
      printf '%s\n' "${line#* : }"
      break
    fi
  done
}

# Tests that root cannot run: root may read and write everything.
not_for_root=BrokenBody.UnreadableFileIsNamed:WriteTogether.AFolderWithoutPermissionIsTold

# nobody_may_run PROGRAM: whether root runs this, and a user without any rights may run the program.
nobody_may_run() {
  [ "$(id -u)" = 0 ] &&
    setpriv --reuid=65534 --regid=65534 --clear-groups test -x "$1" 2>/dev/null
}

# run_as_nobody PRESET: the tests that root cannot run, by a user who has no rights at all. Where
# that user may not enter this folder, run_tests tells them as skipped.
run_as_nobody() {
  tests=$not_for_root
  program=build/$1/tests/io/io_tests
  nobody_may_run "$program" || return 0
  folder=$(mktemp -d)
  chmod 777 "$folder"
  status=0
  TMPDIR=$folder TEST_TMPDIR=$folder/ setpriv --reuid=65534 --regid=65534 --clear-groups \
    "$program" --gtest_filter="$tests" --gtest_brief=1 >"$folder/log" 2>&1 || status=$?
  if [ "$status" != 0 ] || grep -q SKIPPED "$folder/log"; then
    cat "$folder/log" >&2
    fail "tests failed that the user nobody ran"
  fi
  rm -rf "$folder"
  say "run by the user nobody, since root cannot: $tests"
}

# summary LOG: ctest's own last lines, once more.
summary() { grep -E '^[0-9]+% tests passed|^Total Test time' "$1"; }

# run_tests PRESET [CTEST OPTION...]: all tests of a preset, then what was skipped. What the user
# nobody runs for root is left to run_as_nobody.
run_tests() {
  preset=$1
  shift
  log=build/$preset/tests.log
  if nobody_may_run "build/$preset/tests/io/io_tests"; then
    set -- "$@" -E "^($(echo "$not_for_root" | sed 's/\./\\./g; s/:/|/g'))\$"
  fi
  ctest --preset "$preset" --output-on-failure -j "$(job_count)" --no-tests=error -O "$log" "$@"
  tell_skipped "$log"
}
