#!/usr/bin/env bash
# The bench screens in a real terminal, with keys typed as a person would: the simulated printer is picked, a machine is commissioned,
# held, resumed, ended; the findings are opened; the program is left and the terminal must be as before. Then two ways of being
# interrupted: asked to end by a signal, and the terminal closed. Both must stop the attended run safely.
#   screens-in-tmux.sh PROGRAM.dll [SHOTS]     SHOTS: folder that gets the screens as text
# Needs tmux.
set -euo pipefail

program=$(realpath "${1:?which proberunner.dll?}")
shots=${2:-}
work=$(mktemp -d)
socket="proberunner-check-$$"
session=bench
tm() { tmux -L "$socket" "$@"; }
trap 'tm kill-server 2>/dev/null || true; rm -rf "$work"' EXIT

screen() { tm capture-pane -p -t "$session"; }
key() { tm send-keys -t "$session" "$@"; }
fail() { echo "$1"; screen || true; exit 1; }
shot() { [ -z "$shots" ] || { mkdir -p "$shots"; screen >"$shots/$1.txt"; }; }

see() { # text [seconds]: waits until the screen shows it
  local end=$((SECONDS + ${2:-60}))
  until screen | grep -qF -- "$1"; do
    [ $SECONDS -lt $end ] || fail "\"$1\" did not come."
    sleep 0.1
  done
}

open_terminal() {
  tm -f /dev/null new-session -d -s "$session" -x 100 -y 30 \
    "env -u NO_COLOR LANG=C.UTF-8 XDG_CONFIG_HOME=$work/config XDG_DATA_HOME=$work/data PS1='ready> ' bash --norc --noprofile"
  see 'ready>'
}

start_program() { # how fast the simulated printer goes: fast for the long run, slow enough to interrupt the short ones
  key "clear; rm -f $work/after; stty -g >$work/before; dotnet $program --speed $1; echo left with \$?; stty -g >$work/after" Enter
  see 'What to do today' 60
  see 'Commission a machine' 60
}

choose() { # the text of a list's item: from the top of the list down to it
  key Home
  sleep 0.8
  for _ in $(seq 1 14); do
    for _ in 1 2 3 4 5; do
      screen | grep -qF "▶ $1" && return 0
      sleep 0.2
    done
    key Down
  done
  fail "\"$1\" is not in the list."
}

pick_simulated_wren() {
  key 1
  choose 'wren-240'
  key 2
  choose 'simulated printer: good'
  key 3
}

begin() { # the name shown in the list
  choose "$1"
  key Enter
  see 'leave it'
  key b
}

# Answers whatever is asked until a text shows. The answer that the simulated bench lets hands and eyes tell is preselected.
answer_until() { # text seconds
  local end=$((SECONDS + $2)) now
  while :; do
    now=$(screen)
    grep -qF -- "$1" <<<"$now" && return 0
    [ $SECONDS -lt $end ] || fail "\"$1\" did not come."
    if grep -qE 'A question|The machine moves next' <<<"$now"; then key Enter; fi
    sleep 0.2
  done
}

as_before() {
  local end=$((SECONDS + 60))
  until [ -s "$work/after" ]; do # what is typed into the terminal stands there too, so no text tells that the program has ended
    [ $SECONDS -lt $end ] || fail "The program did not end."
    sleep 0.2
  done
  sleep 0.3
  cmp -s "$work/before" "$work/after" || fail "The terminal's line settings are not as before."
  local flags
  flags=$(tm display-message -p -t "$session" '#{alternate_on}#{mouse_any_flag}#{cursor_flag}#{bracket_paste_flag}')
  case $flags in 001 | 0010) ;; *) fail "The terminal's modes are not as before: alternate, mouse, cursor, paste = $flags" ;; esac
}

echo "-- a whole commission"
open_terminal
start_program 60
pick_simulated_wren
shot start
begin 'Commission a machine'
answer_until ' readings' 240
shot series
key F5
see 'HELD' 60
shot held
key F5
see 'The machine moves next' 60
key Enter
answer_until 'drags, still' 240
for _ in 1 2 3; do
  key Enter
  sleep 0.5
done
key a # the simulated person answers the rest
answer_until 'Done:' 600
shot done
see 'opens what it came to' 60
key Enter
see '1 Findings' 30
shot findings
key 2
sleep 0.5
shot bed
key Escape
sleep 0.6
key Escape
see 'What to do today' 30
key C-c
as_before
grep -qF 'left with 0' <<<"$(screen)" || fail "The program did not end well."

echo "-- asked to end by a signal during a run"
start_program 20
pick_simulated_wren
begin 'Trust the probe?'
answer_until ' readings' 240
pid=$(pgrep -f "dotnet $program --speed 20\$" | head -n 1)
kill -TERM "$pid"
as_before
screen | grep -qF 'take it up again' || fail "The stopped run was not named."

echo "-- the terminal closed during a run"
start_program 20
pick_simulated_wren
begin 'Trust the probe?'
answer_until ' readings' 240
pid=$(pgrep -f "dotnet $program --speed 20\$" | head -n 1)
tm kill-session -t "$session"
end=$((SECONDS + 120))
while kill -0 "$pid" 2>/dev/null; do
  [ $SECONDS -lt $end ] || { echo "The program outlived its terminal."; exit 1; }
  sleep 0.2
done
XDG_DATA_HOME="$work/data" dotnet "$program" runs | tee "$work/runs" | tail -n 3
[ "$(grep -c 'stopped' "$work/runs")" -eq 2 ] || { echo "A run that lost its person was not stopped in order."; exit 1; }
echo "The screens came, worked, and left the terminal as it was."
