# Shared by tests/run.sh, scenes/run-demo.sh and .ci/run, which source it from the source root.
# POSIX sh; expects `set -eu`.

say() { printf '%s\n' "-- $*"; }

fail() {
  printf '%s\n' "$*" >&2
  exit 1
}

# Steps that say which of how many they are: `steps_in_all=3`, then `step "compiling ..."`.
steps_in_all=0
step_now=0
step() {
  step_now=$((step_now + 1))
  say "step $step_now of $steps_in_all: $*"
}

# The packages of the named groups of docs/packages.txt, one a line: PACKAGE, or PACKAGE:COMMAND
# where a command by that name does as well.
packages_of() {
  for group in "$@"; do
    awk -v wanted="[$group]" '
      { sub(/#.*/, ""); sub(/ +or +/, ":"); gsub(/[ \t\r]/, "") }
      /^\[/ { inside = ($0 == wanted); next }
      inside && $0 != ""' docs/packages.txt
  done
}

# is_there PACKAGE[:COMMAND]
is_there() {
  case $1 in
    *:*) command -v "${1#*:}" >/dev/null && return 0 ;;
  esac
  [ "$(dpkg-query -W -f='${db:Status-Status}' "${1%%:*}" 2>/dev/null)" = installed ]
}

# missing_packages GROUP...: sets `missing` to those that are not installed.
missing_packages() {
  missing=
  for package in $(packages_of "$@"); do
    is_there "$package" || missing="$missing ${package%%:*}"
  done
}

# Installs what is missing of the named groups; asks for root only when something is.
install_packages() {
  if ! command -v dpkg-query >/dev/null; then
    say "not a Debian system: the packages of docs/packages.txt must be there under your system's names"
    return 0
  fi
  missing_packages "$@"
  if [ -z "$missing" ]; then
    say "all packages of docs/packages.txt are installed ($*)"
    return 0
  fi
  # shellcheck disable=SC2086  # a list of words
  say "installing $(set -- $missing && echo $#) packages and what they need (1 to 10 minutes):$missing"
  if [ "$(id -u)" = 0 ]; then
    as_root=
  elif command -v sudo >/dev/null; then
    as_root=sudo
  else
    fail "packages are missing, and only root can install them. Run this as root, then start again:
  apt-get update && apt-get install --no-install-recommends$missing"
  fi
  log=$(mktemp)
  # shellcheck disable=SC2086  # a list of words
  if ! { $as_root apt-get update -q && $as_root env DEBIAN_FRONTEND=noninteractive \
    apt-get install -q -y --no-install-recommends $missing; } >"$log" 2>&1; then
    tail -n 20 "$log" >&2
    fail "the packages could not be installed; the whole log is $log"
  fi
  rm -f "$log"
}

# How many compilers at once: as many as there are processors, but 1.5 GB of free memory for each
# (the CAD library's headers take that much).
job_count() {
  processors=$(nproc 2>/dev/null || echo 1)
  by_memory=$(awk '/^MemAvailable:/ { print int($2 / 1500000) }' /proc/meminfo 2>/dev/null || true)
  [ -n "$by_memory" ] || by_memory=$processors
  [ "$by_memory" -ge 1 ] || by_memory=1
  [ "$by_memory" -lt "$processors" ] && echo "$by_memory" || echo "$processors"
}

# configure PRESET: quiet unless it fails. Of each executable's files of tests those of `test_part`
# (STANDPOINT_TEST_PART in tests/CMakeLists.txt), all unless a script sets it.
test_part=
configure() {
  log=build/$1.log
  mkdir -p build
  if ! cmake --preset "$1" "-DSTANDPOINT_TEST_PART=$test_part" >"$log" 2>&1; then
    tail -n 30 "$log" >&2
    fail "configuring failed; the whole log is $log"
  fi
}

# files_left PRESET [TARGET...]: how many files the build has never compiled, after `configure`.
files_left() (
  cd "build/$1"
  shift
  ninja -t commands "$@" | sed -n 's/.* -o \([^ ]*\.o\)\( .*\)\{0,1\}$/\1/p' | {
    left=0
    while read -r object; do
      [ -e "$object" ] || left=$((left + 1))
    done
    echo "$left"
  }
)

# About how long that takes: a file is 4 s of one quiet processor on average (measured over all
# files of `dev`).
minutes_for() {
  minutes=$((($1 * 4 + 60 * $2 - 1) / (60 * $2)))
  [ "$minutes" -eq 1 ] && echo "1 minute" || echo "$minutes minutes"
}

# build PRESET [TARGET...]: configures and builds; tells how much there is to do, then is quiet
# unless it fails.
build() {
  preset=$1
  shift
  jobs=$(job_count)
  configure "$preset"
  left=$(files_left "$preset" "$@")
  if [ "$left" -gt 0 ]; then
    say "compiling $left files into build/$preset, $jobs at a time: about $(minutes_for "$left" "$jobs"), less with a warm compiler cache"
  else
    say "bringing build/$preset up to date"
  fi
  if ! cmake --build --preset "$preset" -j "$jobs" ${1:+--target "$@"} >"$log" 2>&1; then
    grep -E -A 5 'error|FAILED' "$log" | head -n 60 >&2
    fail "the build failed; the whole log is $log"
  fi
}
