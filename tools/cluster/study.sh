#!/usr/bin/env bash
# tools/cluster/study.sh — one shard of a study as a task of a Slurm job array.
# SPDX-License-Identifier: GPL-3.0-or-later
#
#   sbatch --array=1-8 tools/cluster/study.sh my_study.toml my_study
#   sbatch --dependency=afterok:<job> --wrap "lodegear merge my_study"
#
# The folder must be one that all nodes see. A task that is lost with its node is put in the queue
# again by Slurm and does only what is missing; should the lost one still be running, nothing is
# counted twice. After a time limit submit the same array again. LODEGEAR names the program if it is
# not on the path. Any other scheduler: call 'lodegear study … --shard I/N' itself, as
#   seq 8 | xargs -P 4 -I{} lodegear study my_study.toml --out my_study --threads 1 --shard {}/8
#SBATCH --job-name=lodegear-study
#SBATCH --requeue
#SBATCH --open-mode=append
#SBATCH --signal=B:TERM@60
set -euo pipefail

if (($# < 2)) || [[ -z ${SLURM_ARRAY_TASK_ID:-} ]]; then
  echo "usage: sbatch --array=1-N tools/cluster/study.sh STUDY.toml DIR [options of 'lodegear study']"
  exit 2
fi
study=$1 folder=$2
shift 2
if ((SLURM_ARRAY_TASK_MAX - SLURM_ARRAY_TASK_MIN + 1 != SLURM_ARRAY_TASK_COUNT)); then
  echo "The array must be without gaps, as --array=1-8: its tasks are the shards 1/8 to 8/8." >&2
  exit 2
fi
shard=$((SLURM_ARRAY_TASK_ID - SLURM_ARRAY_TASK_MIN + 1))/$SLURM_ARRAY_TASK_COUNT
echo "$(hostname) ${SLURMD_NODENAME:-}: shard $shard, start ${SLURM_RESTART_COUNT:-0}"
# exec: the signal before the time limit must reach the program, which then stops in order.
exec "${LODEGEAR:-lodegear}" study "$study" --out "$folder" --shard "$shard" \
  --threads "${SLURM_CPUS_PER_TASK:-1}" "$@"
