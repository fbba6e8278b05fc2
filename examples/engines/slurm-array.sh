#!/usr/bin/env bash
#SBATCH --job-name=datumlight
#SBATCH --array=1-4
#SBATCH --cpus-per-task=1
#SBATCH --output=datumlight-%A-%a.log
# A sweep as a Slurm job array: each task does one shard. SCENARIO and FOLDER must be on a shared disk.
#   array=$(sbatch --parsable --export=ALL,SCENARIO=sweep.yaml,FOLDER=shards examples/engines/slurm-array.sh)
#   sbatch --dependency=afterany:$array --wrap "datumlight batch --gather shards/* --out packages"
set -euo pipefail
shard="$SLURM_ARRAY_TASK_ID/$SLURM_ARRAY_TASK_COUNT"
code=0
${DATUMLIGHT:-datumlight} batch "$SCENARIO" --out "$FOLDER/$SLURM_ARRAY_TASK_ID" --shard "$shard" \
  --jobs "${SLURM_CPUS_PER_TASK:-1}" --no-cache || code=$?
# A broken or unusable scenario (exit 1 or 2) is reported in the summary and does not fail the task; an internal error does.
[ "$code" -le 2 ]
