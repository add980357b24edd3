#!/usr/bin/env bash
# Kill -9 cannot show a missing fsync: the kernel keeps what was written. This check watches the system calls of a process that appends
# rows, and fails unless each acknowledgment comes after a successful sync of the log it was written to. Then it makes the syncs fail and
# fails unless the journal refuses to acknowledge anything more.
#   fsync-before-acknowledgment.sh ProbeRunner.Records.Tests.dll
# Needs strace and Linux.
set -euo pipefail

assembly=$(realpath "${1:?which assembly?}")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
rows=40

strace -f -qq -y -s 16 -e trace=pwrite64,write,fsync,fdatasync -o "$work/trace" \
    dotnet "$assembly" "$work/runs.db" 20261125-0830-kqv "$rows" >"$work/said"
grep -qx done "$work/said"

awk -v rows="$rows" '
    /pwrite64\([0-9]+<.*runs\.db-wal>/ { unsynced = 1; wrote = 1; next }
    /(fsync|fdatasync)\([0-9]+<.*runs\.db-wal>/ && !/resumed|unfinished/ && / = 0$/ { unsynced = 0; synced = 1; next }
    /write\([0-9]+<.*\/said>, "[0-9]+\\n"/ {
        acknowledged++
        if (unsynced || !wrote || !synced) { print "acknowledged before the sync: " $0 > "/dev/stderr"; wrong++ }
        wrote = 0; synced = 0
    }
    END {
        if (acknowledged != rows) { print "saw " acknowledged " acknowledgments instead of " rows > "/dev/stderr"; exit 1 }
        exit wrong > 0
    }' "$work/trace"
echo "each of $rows acknowledgments came after its row was synced."

rm -rf "$work"/runs.db*
set +e
strace -f -qq -e trace=fsync,fdatasync -e inject=fsync,fdatasync:error=EIO:when=60+ -o "$work/injected" \
    dotnet "$assembly" "$work/runs.db" 20261125-0830-kqv 500 >"$work/said" 2>"$work/errors"
set -e
last=$(grep -cE '^[0-9]+$' "$work/said" || true)
[ "$(tail -n 2 "$work/said" | tr '\n' ' ')" = "failed refused " ] || { tail -n 3 "$work/said" >&2; echo "a failed sync was not noticed." >&2; exit 1; }
echo "after $last rows a failed sync ended the journal, and nothing was acknowledged afterwards."
