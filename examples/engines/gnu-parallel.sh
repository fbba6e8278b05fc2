#!/usr/bin/env bash
# A sweep on several processes or machines with GNU parallel: one shard each, then gathered.
#   examples/engines/gnu-parallel.sh SCENARIO OUT [SHARDS]
# On several machines: add `--sshloginfile hosts` to parallel; SCENARIO and OUT must be on a shared disk.
set -euo pipefail
scenario=$1
out=$2
shards=${3:-4}
datumlight=${DATUMLIGHT:-datumlight}
folder=$(mktemp -d "${TMPDIR:-/tmp}/shards-XXXXXX")
trap 'rm -rf "$folder"' EXIT

# A shard whose scenarios break a rule exits 1 but is complete; gathering returns the largest exit code.
seq "$shards" | parallel --halt never \
  "$datumlight batch '$scenario' --out '$folder'/{} --shard {}/$shards --jobs 1 --quiet" || true
$datumlight batch --gather "$folder"/* --out "$out"
