#!/usr/bin/env bash
# Slurm on this machine alone, for as long as one command runs: slurm-one-node.sh FOLDER COMMAND...
# Everything it keeps lies in FOLDER; needs root, slurmctld, slurmd, the slurm client and munge.
set -euo pipefail
folder=$(realpath "$1")
shift
host=$(hostname -s)
key=$folder/munge.key
started=()
trap 'for process in "${started[@]}"; do kill "$process" 2>/dev/null || true; done' EXIT

chmod 755 "$folder"
dd if=/dev/urandom of="$key" bs=128 count=1 status=none
chmod 600 "$key"
mkdir -p "$folder/state" "$folder/spool"
cat > "$folder/slurm.conf" <<CONF
ClusterName=one
SlurmctldHost=$host
AuthType=auth/munge
AuthInfo=socket=$folder/munge.socket
CryptoType=crypto/munge
SlurmUser=root
SlurmctldPort=16817
SlurmdPort=16818
StateSaveLocation=$folder/state
SlurmdSpoolDir=$folder/spool
SlurmctldPidFile=$folder/slurmctld.pid
SlurmdPidFile=$folder/slurmd.pid
SlurmctldLogFile=$folder/slurmctld.log
SlurmdLogFile=$folder/slurmd.log
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
NodeName=$host CPUs=$(nproc) State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES MaxTime=INFINITE State=UP
CONF
export SLURM_CONF=$folder/slurm.conf

background() {
  "$@" > "$folder/$(basename "$1").out" 2>&1 &
  started+=($!)
}
background munged --foreground --force --socket="$folder/munge.socket" --key-file="$key" \
  --pid-file="$folder/munged.pid" --log-file="$folder/munged.log" --seed-file="$folder/munged.seed"
sleep 1
background slurmctld -D -f "$SLURM_CONF"
sleep 2
background slurmd -D -f "$SLURM_CONF"
for _ in $(seq 30); do
  if sinfo -h -o %t 2>/dev/null | grep -q idle; then "$@"; exit; fi
  sleep 1
done
echo 'slurm does not start here' >&2
exit 75
