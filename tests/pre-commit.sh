#!/bin/sh
# What to know before a commit, in a few seconds: that the files of the commit are laid out right,
# that no script is broken, and that the rules of the house hold. To have git run it by itself:
#
#     ln -s ../../tests/pre-commit.sh .git/hooks/pre-commit
#
# `git commit --no-verify` leaves it out. CI runs the same checks over all files.
set -eu
cd "$(git rev-parse --show-toplevel)"
. tests/setup.sh
. tests/checks.sh

files=$(git diff --cached --name-only --diff-filter=ACMR)
if [ -z "$files" ]; then
  say "nothing is staged: checking all files"
  files=$(git ls-files)
fi

# Git's own: conflict marks, blanks at the end of a line.
git diff --cached --check || fail "the lines above have blanks at their end or marks of a conflict"
printf '%s\n' "$files" | check_format
printf '%s\n' "$files" | check_scripts

# The tests of the structure read the tree itself. They are built by `sh tests/run.sh`; a tree that
# was never built is not built here.
structure=build/dev/tests/structure_tests
if [ -x "$structure" ]; then
  "$structure" --gtest_brief=1 || fail "a rule of the house is broken (tests/structure)"
else
  say "$structure is not built: the rules of the house are not checked"
fi
