#!/usr/bin/env bash
# A sweep over several processes, or machines, by GNU parallel: one shard each, then gathered.
#   examples/engines/gnu-parallel.sh SCENARIO OUT [SHARDS]
# Over machines: add `--sshloginfile hosts` to parallel, with SCENARIO and OUT on a disk that all of them see.
set -euo pipefail
scenario=$1
out=$2
shards=${3:-4}
datumlight=${DATUMLIGHT:-datumlight}
folder=$(mktemp -d "${TMPDIR:-/tmp}/shards-XXXXXX")
trap 'rm -rf "$folder"' EXIT

# A shard whose scenarios break a rule exits 1 and is still complete; gathering reports the worst code of all.
seq "$shards" | parallel --halt never \
  "$datumlight batch '$scenario' --out '$folder'/{} --shard {}/$shards --jobs 1 --quiet" || true
$datumlight batch --gather "$folder"/* --out "$out"
