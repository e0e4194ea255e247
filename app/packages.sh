# SPDX-License-Identifier: GPL-3.0-or-later
# The Debian packages that the two commands need, and how they are installed.
# Read by app/run.sh and tests/run.sh (". app/packages.sh"), never run by itself.

# To build and to open the window. SVG icons and a font are only recommended by
# the GTK packages, so a bare machine lacks them.
packages_to_run='build-essential meson ninja-build pkg-config
  libgtk-4-dev libsqlite3-dev libjson-glib-dev libsuitesparse-dev libglpk-dev libgsl-dev gettext
  librsvg2-common fonts-dejavu-core tzdata'

# To test: a display in memory, a session bus, pointer and keys, pictures.
packages_to_test='libsundials-dev python3 xvfb xauth dbus xdotool imagemagick at-spi2-core python3-pyatspi
  openbox clang-format desktop-file-utils appstream poppler-utils locales'

say ()
{
  printf '%s\n' "$*" >&2
}

# Installs those of the packages given that are missing. Fails when it cannot.
install_missing ()
{
  if ! command -v dpkg-query >/dev/null 2>&1; then
    say "This is not a Debian system, so nothing is installed. On Debian the packages are:"
    say "  $(echo $*)"
    return 0
  fi

  missing=
  for package in $*; do
    case $(dpkg-query -W -f '${Status}' "$package" 2>/dev/null) in
      *' installed') ;;
      *) missing="$missing $package" ;;
    esac
  done
  [ -n "$missing" ] || return 0

  as_root=
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null 2>&1; then
      say "These packages are missing:$missing"
      say "Install them as root: apt-get install --no-install-recommends$missing"
      return 1
    fi
    as_root=sudo
  fi

  say "Installing:$missing"
  $as_root apt-get update -qq >&2 ||
    say "The list of packages could not be renewed; trying with the old one."
  $as_root env DEBIAN_FRONTEND=noninteractive \
    apt-get install -y -qq --no-install-recommends $missing >&2 || {
    say "Installing failed; see the lines above."
    return 1
  }
}

# Sets build/ up, with the options given. A folder that is there already keeps
# what was set up in it, unless it came from another place or is broken.
configure_build ()
{
  if [ -d build ] && grep -qxF "Source dir: $(pwd)" build/meson-logs/meson-log.txt 2>/dev/null; then
    if [ $# -eq 0 ] || meson configure build "$@" >/dev/null 2>&1; then
      return 0
    fi
  fi
  if [ -d build ]; then
    meson setup --wipe build "$@" >&2
  else
    meson setup build "$@" >&2
  fi
}
