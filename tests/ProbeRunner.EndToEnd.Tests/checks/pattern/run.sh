#!/usr/bin/env bash
# Writes patterns for both bench machines and has each checked by a parser that is not ours. Usage: run.sh PROGRAM...
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
profiles=$here/../../../../profiles/machines
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cp "$here"/package.json "$here"/package-lock.json "$here"/check.mjs "$work"
(cd "$work" && npm ci --ignore-scripts --no-audit --no-fund --silent)

pattern() { # machine width filament flow
  "${program[@]}" pattern --machine "$1" --set line_width_mm="$2" --set filament_mm="$3" --set flow="$4" -o "$work/$1-$2.gcode"
  node "$work/check.mjs" "$work/$1-$2.gcode" "$profiles/$1.toml" "$2" "$3" "$4"
}

program=("$@")
pattern wren-240 0.45 1.75 1
pattern wren-240 0.6 2.85 0.95
pattern heron-330 0.45 1.75 1
pattern heron-330 0.35 1.75 1.05

# The check itself must be able to fail: too much plastic, lines beside the bed, ways below the clips.
broken() { # name sed-script
  sed -E "$2" "$work/wren-240-0.45.gcode" > "$work/$1.gcode"
  if cmp -s "$work/$1.gcode" "$work/wren-240-0.45.gcode"; then echo "$1 was not broken"; exit 1; fi
  if node "$work/check.mjs" "$work/$1.gcode" "$profiles/wren-240.toml" 0.45 1.75 1 >/dev/null 2>&1; then echo "$1 was not found out"; exit 1; fi
}

broken thick 's/ E0\./ E1./'
broken beside 's/X[0-9.]+ (Y[0-9.]+ E)/X900.000 \1/'
broken low 's/^G1 Z[1-9][0-9]*\./G1 Z2./'
