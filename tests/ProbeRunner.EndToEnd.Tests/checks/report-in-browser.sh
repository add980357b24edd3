#!/usr/bin/env bash
# Opens a report in headless Chromium, by day and by night, and fails on any console message (a request that the page's own policy
# forbids is one), on a part that is missing, or on a page that came out empty.
#   report-in-browser.sh REPORT.html [SCREENSHOT.png]
# Needs chromium (Debian: chromium, fonts-dejavu-core).
set -euo pipefail

report=$(realpath "${1:?which report?}")
browser=$(command -v chromium || command -v chromium-browser || command -v google-chrome)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

options=(--headless --disable-gpu --no-first-run --disable-background-networking --disable-component-update --disable-sync
    --disable-quic --hide-scrollbars --enable-logging=stderr --log-level=0)
[ "$(id -u)" -ne 0 ] || options+=(--no-sandbox)

problems=0
for scheme in light dark; do
    extra=()
    [ "$scheme" = light ] || extra+=(--force-dark-mode)
    picture="$work/$scheme.png"
    "$browser" "${options[@]}" "${extra[@]}" --user-data-dir="$work/profile-$scheme" --window-size=1100,3000 \
        --screenshot="$picture" "file://$report" >"$work/$scheme.out" 2>"$work/$scheme.log" || { cat "$work/$scheme.log" >&2; exit 1; }
    if grep -F ':CONSOLE' "$work/$scheme.log" >&2; then
        echo "$report: the browser had something to say ($scheme)." >&2
        problems=1
    fi
    if [ ! -s "$picture" ] || [ "$(stat -c %s "$picture")" -lt 20000 ]; then
        echo "$report: the page came out empty ($scheme)." >&2
        problems=1
    fi
done

"$browser" "${options[@]}" --user-data-dir="$work/profile-dom" --dump-dom "file://$report" >"$work/dom.html" 2>"$work/dom.log"
for wanted in '<h1' 'class="verdict' 'id="cautions"'; do
    grep -qF "$wanted" "$work/dom.html" || { echo "$report: $wanted is missing." >&2; problems=1; }
done

[ -z "${2:-}" ] || cp "$work/light.png" "$2"
[ "$problems" -eq 0 ] && echo "$report: opened without a message."
exit "$problems"
