#!/bin/sh
# deb.sh BUILT WORK SCENE VERSION: makes the Debian package of what is built in BUILT, and holds that
# it says what it needs, puts down what it should and runs from where it was unpacked. Nothing is
# installed into the machine.
set -eu
built=$1 work=$2 scene=$3 version=$4

fail() {
  echo "deb.sh: $*" >&2
  exit 1
}

rm -rf "$work"
mkdir -p "$work"
(cd "$built" && cpack -G DEB -B "$work") > "$work/log" 2>&1 ||
  fail "cpack fails: $(tail -20 "$work/log")"
package=$(find "$work" -maxdepth 1 -name '*.deb')
[ "$(echo "$package" | wc -w)" = 1 ] || fail "not one package: $package"

field() { dpkg-deb -f "$package" "$1"; }
[ "$(field Package)" = standpoint ] || fail "the package is called $(field Package)"
[ "$(field Version)" = "$version" ] || fail "its version is $(field Version), not $version"
for library in libc6 libtbb libassimp libocct-data-exchange librsvg2; do
  case $(field Depends) in *"$library"*) ;; *) fail "it does not depend on $library" ;; esac
done

root=$work/root
dpkg-deb -x "$package" "$root"
for file in bin/standpoint share/man/man1/standpoint.1 share/doc/standpoint/LICENSE \
  share/doc/standpoint/docs/scene.schema.json share/bash-completion/completions/standpoint; do
  [ -s "$root/usr/$file" ] || fail "usr/$file is missing or empty"
done
strange=$(cd "$root" && find . -type f ! -path './usr/bin/*' ! -path './usr/share/*')
[ -z "$strange" ] || fail "it holds more than the program: $strange"

# Every declared dependency is installed here: the program was built with them.
status=0
"$root/usr/bin/standpoint" plan "$scene" -o "$work/plan" --quiet || status=$?
[ "$status" -le 1 ] || fail "the unpacked program ends with $status"
for file in plan.json stations.csv touches.csv page.html; do
  [ -s "$work/plan/$file" ] || fail "the unpacked program writes no $file"
done
