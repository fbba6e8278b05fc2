/** The codes of the layout rules, named here once for all their tests: a rule that gets another code is renamed in this file alone. */

export const RULE = {
  overlap: 'patch-overlap',
  keepOut: 'keep-out',
  offSubstrate: 'off-substrate',
  seatClash: 'seat-clash',
  noContact: 'no-contact',
  collision: 'collision',
  unlit: 'unlit',
  feature: 'feature-too-small',
  biasCancels: 'bias-cancels',
  blocked: 'blocked',
  stray: 'stray-order',
  cubeTurned: 'retro-turned',
  noReturn: 'no-return',
  weakReturn: 'weak-return',
  camera: 'undersampled',
  blur: 'diffraction-blur',
  unaligned: 'unaligned-hologram',
  notObserved: 'not-observed',
  missesWanted: 'misses-wanted',
  unlikely: 'unlikely-value',
} as const;
