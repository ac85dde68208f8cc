# The checks of what is written rather than of what runs. Sourced by tests/pre-commit.sh and
# .ci/run after tests/setup.sh. Each reads names of files, one a line, and fails at the end, after
# it has told all it found.

# The clang-format that .clang-format is written for.
clang_format=clang-format-14

# C++ is laid out as .clang-format says.
check_format() {
  command -v "$clang_format" >/dev/null ||
    fail "$clang_format is missing: apt-get install $clang_format"
  cpp=$(grep -E '\.(cpp|h)$' || true)
  [ -n "$cpp" ] || return 0
  say "layout of $(printf '%s\n' "$cpp" | wc -l) C++ files ($clang_format)"
  printf '%s\n' "$cpp" | xargs "$clang_format" --dry-run -Werror ||
    fail "lay them out: $clang_format -i FILE..."
}

# Shell scripts are read by the shell that runs them.
check_scripts() {
  broken=
  for file in $(grep -E '\.sh$|^\.ci/run$' || true); do
    sh -n "$file" || broken="$broken $file"
  done
  [ -z "$broken" ] || fail "not readable by sh:$broken"
}

# to_lint: of the names read, the files that check_lint takes: sources that a preset compiles, and so
# not what is for WebAssembly alone.
to_lint() {
  grep -E '^(geometry|planner|io)/.*\.cpp$' | grep -vE '^io/page/(webassembly/|engine/engine\.cpp)' || true
}

# rooms_to_lint PRESET: all that to_lint takes, as a preset that compiles each folder as one file has
# it (STANDPOINT_BY_ROOMS): the headers, most of the work, are then read once a folder. About 15
# processor minutes for all of it (11 of the 45 were measured: 20 s each); file by file it is 45.
rooms_to_lint() {
  sed -n 's/^ *"file": "\(.*\)",\{0,1\}$/\1/p' "build/$1/compile_commands.json" |
    sed -n "s|^$PWD/||p" | grep -E "^(build/$1/)?(geometry|planner|io)/"
}

# Where clang-tidy was seen to find nothing, as parts of the names of sources and of folders compiled as
# one file: a find fails there. Elsewhere it is told, until the folder has been gone through too.
gone_through='geometry[/_]|planner[/_](model|reach|cover|crew|why|nests|network|planning|stations|setup|surface|rehearsal|traps|part|standpoint)[/_]'

# check_lint PRESET [OPTION]: clang-tidy, with the flags that the preset's build has for each file (some
# of them only GCC knows).
check_lint() {
  list=$(cat)
  [ -n "$list" ] || return 0
  say "clang-tidy on $(printf '%s\n' "$list" | wc -l) files of $1"
  printf '%s\n' "$list" | xargs -P "$(job_count)" -n 1 \
    clang-tidy -p "build/$1" --quiet --extra-arg=-Wno-unknown-warning-option ${2:+"$2"} 2>/dev/null ||
    fail "clang-tidy found the above"
}

# lint PRESET [OPTION]: check_lint on the names read; what it finds outside of `gone_through` is told alone.
lint() {
  list=$(cat)
  printf '%s\n' "$list" | { grep -E "$gone_through" || true; } | check_lint "$@"
  (printf '%s\n' "$list" | { grep -vE "$gone_through" || true; } | check_lint "$@") ||
    say "told alone: tests/checks.sh (gone_through) names no folder of these"
}

# lint_rooms PRESET: the same for the names of rooms_to_lint. A folder as one file includes
# .cpp files, and that is no mistake there. (What a file names by `using` and does not use is found
# file by file alone.)
lint_rooms() { lint "$1" --checks=-bugprone-suspicious-include; }
