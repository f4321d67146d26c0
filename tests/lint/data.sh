#!/bin/sh
# The files for the desktop are valid: launcher, description, settings, icons, file type, and what windows are made of.
# usage: data.sh BUILD-FOLDER
set -u
cd "$(dirname -- "$0")/../.." || exit 1
build=${1:-.build}
status=0
id=org.sherdboard.Sherdboard

# check WHAT COMMAND…: shows the command's words only when it fails.
check ()
{
  what=$1; shift
  if ! words=$("$@" 2>&1); then
    printf '%s\n%s\n' "$what:" "$words"
    status=1
  fi
}

check launcher desktop-file-validate "$build/data/$id.desktop"
check description appstreamcli validate --no-net --pedantic "$build/data/$id.metainfo.xml"
check settings glib-compile-schemas --strict --dry-run data
for file in data/icons/hicolor/*/apps/*.svg "data/$id.mime.xml" ui/*.xml; do
  [ -e "$file" ] && check "$file" /usr/bin/python3 -c 'import sys, xml.dom.minidom as d; d.parse(sys.argv[1])' "$file"
done

# The validator does not know widgets of our own; a file that uses one is checked by the test that makes the widget.
for file in ui/*.ui; do
  [ -e "$file" ] || continue
  check "$file" /usr/bin/python3 -c 'import sys, xml.dom.minidom as d; d.parse(sys.argv[1])' "$file"
  grep -q 'class="Sherd' "$file" && continue
  check "$file" timeout 60 xvfb-run -a gtk4-builder-tool validate "$file"
done
exit $status
