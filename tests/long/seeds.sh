#!/bin/sh
# Lays small files of the right kind into a folder, for a fuzz target to start from. usage: seeds.sh TARGET FOLDER
set -u
cd "$(dirname -- "$0")/../.." || exit 1
folder=$2
shared=${SHERD_SHARED_DIR:-../shared}

# copy_small FOLDER… PATTERN: files of up to 40 kB; each gets a number, because names may be the same.
n=0
copy_small ()
{
  pattern=$1; shift
  for from in "$@"; do
    [ -d "$from" ] || continue
    find "$from" -type f -name "$pattern" -size -40k >"$folder/.list"
    while read -r file; do
      n=$((n + 1))
      cp "$file" "$folder/seed-$n"
    done <"$folder/.list"
    rm -f "$folder/.list"
  done
}

case $1 in
  fuzz-formula)
    # Every formula and analysis of the table, one a file.
    sed -n 's:.*<\(formula\|analysis\)>\(.*\)</.*:\2:p' data/materials.xml | while read -r text; do
      n=$((n + 1))
      printf '%s' "$text" >"$folder/seed-$n"
    done ;;
  fuzz-materials)
    # Each material with all the sources, one a file.
    awk -v folder="$folder" '
      /<materials |<source / { head = head $0 "\n" }
      /<material / { block = ""; n++ }
      { block = block $0 "\n" }
      /<\/material>/ { file = folder "/seed-" n; printf "%s%s</materials>\n", head, block >file; close (file) }
    ' data/materials.xml
    cp data/low-melting-systems.csv "$folder" ;;
  fuzz-jpeg)
    copy_small '*.jp*g' tests/data data "$shared/corpus" ;;
  fuzz-png)
    copy_small '*.png' tests/data data "$shared/corpus" ;;
  fuzz-tiff)
    copy_small '*.tif*' tests/data data "$shared/corpus"
    # Small ones of each packing and layout, made of patterns; without ImageMagick the target starts with the others.
    for packing in None LZW Zip RLE JPEG; do
      for layout in '-depth 8' '-depth 16' '-define tiff:tile-geometry=16x16' '-interlace Plane' '-colors 9' \
                    '-colorspace CMYK' '-colorspace Gray' '-alpha set -channel A -evaluate set 50%'; do
        n=$((n + 1))
        # Word splitting is meant: a layout is several options.
        # shellcheck disable=SC2086
        convert -size 33x21 plasma:red-blue -compress $packing $layout "tiff:$folder/seed-$n" 2>/dev/null
      done
    done
    for kind in '-monochrome -compress Fax' '-monochrome -compress Group4' \
                '-depth 32 -define quantum:format=floating-point' '-depth 16 -define quantum:format=floating-point'; do
      n=$((n + 1))
      # shellcheck disable=SC2086
      convert -size 33x21 plasma:red-blue $kind "tiff:$folder/seed-$n" 2>/dev/null || rm -f "$folder/seed-$n"
    done ;;
  fuzz-trial)
    copy_small '*.sherdboard' tests/data data
    copy_small '*.json' "$shared/corpus/json" ;;
  fuzz-chart)
    copy_small '*.cgats' tests/data data
    copy_small '*.txt' "$shared/corpus/charts" ;;
  *) echo "seeds.sh: no such target: $1" >&2; exit 1 ;;
esac
