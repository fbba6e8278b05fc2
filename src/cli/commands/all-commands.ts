/** Every command, in the order of the help. */
import type { Register } from '../command.ts';
import { registerBatch } from './batch.ts';
import { registerCheck } from './check.ts';
import { registerCompletion } from './completion.ts';
import { registerExplain } from './explain.ts';
import { registerFringes } from './fringes.ts';
import { registerMake } from './make.ts';
import { registerPhase } from './phase.ts';
import { registerPlan } from './plan.ts';
import { registerRead } from './read.ts';
import { registerRecord } from './record.ts';
import { registerSteer } from './steer.ts';
import { registerTransfer } from './transfer.ts';

export const COMMANDS: readonly Register[] = [
  registerCheck,
  registerMake,
  registerPlan,
  registerPhase,
  registerFringes,
  registerRead,
  registerSteer,
  registerTransfer,
  registerRecord,
  registerBatch,
  registerExplain,
  registerCompletion,
];
