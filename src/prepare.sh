# Read by src/run and tests/run (POSIX sh): finds what is missing, installs it where that is allowed, and builds.
# Needs $root, the folder of the project.

build="$root/.build"

# One line each: Debian's package, then how to see that it is there (a command, a pkg-config module or a file).
packages_to_build='
gcc                 cmd:cc
meson               cmd:meson
ninja-build         cmd:ninja
pkg-config          cmd:pkg-config
python3             cmd:python3
gettext             cmd:msgfmt
desktop-file-utils  cmd:update-desktop-database
libglib2.0-dev      pc:gio-unix-2.0
libgtk-4-dev        pc:gtk4
libjson-glib-dev    pc:json-glib-1.0
liblcms2-dev        pc:lcms2
libgsl-dev          pc:gsl
libpng-dev          pc:libpng
libjpeg-dev         pc:libjpeg
libtiff-dev         pc:libtiff-4
libexif-dev         pc:libexif
shared-mime-info    cmd:update-mime-database
librsvg2-common     file:/usr/lib/*/gdk-pixbuf-2.0/*/loaders/*svg*
adwaita-icon-theme  file:/usr/share/icons/Adwaita/index.theme
hicolor-icon-theme  file:/usr/share/icons/hicolor/index.theme
fonts-dejavu-core   file:/usr/share/fonts/*/dejavu*/DejaVuSans.ttf
'

say () { printf '%s\n' "$*"; }
fail () { printf '%s\n' "$*" >&2; exit 1; }

# Whether the thing that a package brings is there, from wherever it came.
is_there ()
{
  case $1 in
    cmd:*) command -v "${1#cmd:}" >/dev/null 2>&1 ;;
    pc:*) pkg-config --exists "${1#pc:}" 2>/dev/null ;;
    py:*) /usr/bin/python3 -c "import ${1#py:}" 2>/dev/null ;;
    file:*) ls ${1#file:} >/dev/null 2>&1 ;;
    *) return 1 ;;
  esac
}

is_installed ()
{
  [ "$(dpkg-query -W -f '${db:Status-Status}' "$1" 2>/dev/null)" = installed ]
}

# Reads lines "package probe", writes the packages of which nothing is found.
list_missing ()
{
  while read -r package probe; do
    [ -n "$package" ] || continue
    is_there "$probe" || is_installed "$package" || printf '%s ' "$package"
  done
}

# How to become root without being asked for a password; empty output and status 1 when that is not allowed.
as_root ()
{
  if [ "$(id -u)" = 0 ]; then
    printf 'env'
  elif command -v sudo >/dev/null 2>&1 && sudo -n true 2>/dev/null; then
    printf 'sudo -n env'
  else
    return 1
  fi
}

install_packages ()
{
  # Word splitting is meant: both hold lists of words.
  # shellcheck disable=SC2086
  $become DEBIAN_FRONTEND=noninteractive apt-get -qq -y update >"$build-apt.log" 2>&1 </dev/null
  # shellcheck disable=SC2086
  $become DEBIAN_FRONTEND=noninteractive apt-get -qq -y --no-install-recommends install $missing \
    >>"$build-apt.log" 2>&1 </dev/null
}

# need_packages LIST: makes sure that everything in the list is there, or says what is missing and stops.
need_packages ()
{
  missing=$(printf '%s\n' "$1" | list_missing)
  missing=${missing% }
  [ -n "$missing" ] || return 0

  if ! command -v apt-get >/dev/null 2>&1; then
    say "These are missing (by their names in Debian); install them and start again:" >&2
    fail "  $missing"
  fi
  if ! become=$(as_root); then
    say "These packages are missing, and installing them needs the administrator:" >&2
    fail "  apt-get install $missing"
  fi
  say "Installing: $missing"
  if ! install_packages; then
    tail -n 15 "$build-apt.log" >&2
    fail "Could not install: $missing"
  fi
  rm -f "$build-apt.log"
}

set_up ()
{
  # A build folder knows where it was made; one that came along with a moved project is of no use.
  [ "$(cat "$build/made-for" 2>/dev/null)" = "$root" ] || rm -rf "$build"
  [ -f "$build/build.ninja" ] && return 0
  mkdir -p "$build"
  meson setup "$build" "$root" >"$build/set-up.log" 2>&1 || return 1
  printf '%s\n' "$root" >"$build/made-for"
}

# Sets up the build folder where it is new, and builds.
build_all ()
{
  if ! set_up; then
    tail -n 15 "$build/set-up.log" >&2
    fail "Could not set up the build; the whole log is in $build/set-up.log"
  fi
  say "Building (the first time this takes a minute or two)"
  if ! ninja -C "$build" >"$build/build.log" 2>&1; then
    grep -E -A 8 'error:|FAILED:' "$build/build.log" | head -n 60 >&2
    fail "Could not build; the whole log is in $build/build.log"
  fi
}

# So that programs find their parts in the build folder, not those of an installed version.
use_build_folder ()
{
  export GSETTINGS_SCHEMA_DIR="$build/data"
  export SHERD_LOCALE_DIR="$build/po"
  export SHERD_DATA_DIR="$root/data"
}
