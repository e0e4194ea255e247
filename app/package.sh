#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Builds a Debian package from this tree, by the platform's own tools.
#
#   sh app/package.sh [FOLDER]   leaves dewtier_VERSION_ARCH.deb there; build/package by default
#
# What is built is what git knows of, as it stands in this folder now. The same tree gives
# the same bytes: the package is always built in a folder of the same name.
set -eu
CDPATH= cd -- "$(dirname -- "$0")/.."
. app/packages.sh

out=${1:-build/package}
mkdir -p "$out"
out=$(CDPATH= cd -- "$out" && pwd)
install_missing $packages_to_run git python3 debhelper dpkg-dev

# Compilers write the folder's name into what they make.
place=${TMPDIR:-/tmp}/dewtier-package-$(id -u)
if ! mkdir "$place" 2>/dev/null; then
  say "$place is there already: another package is being built, or one was broken off."
  say "If none is being built, remove it and try again."
  exit 1
fi
trap 'rm -rf "$place"' EXIT INT TERM
mkdir "$place/dewtier"
git ls-files -z | xargs -0 -I{} cp --parents -P {} "$place/dewtier/"
cp -R "$place/dewtier/data/debian" "$place/dewtier/debian"
(cd -- "$place/dewtier" && dpkg-buildpackage -b -us -uc >&2)
cp "$place"/dewtier_*.deb "$out/"
ls "$out"/dewtier_*.deb
