/** The layers of the pattern files: one table for GDSII, OASIS, DXF and everything that speaks of them. */
export interface PatternLayer {
  readonly layer: number;
  readonly datatype: number;
  /** In the DXF, and for people. */
  readonly name: string;
  readonly meaning: string;
}

export const PATTERN_LAYERS = {
  written: { layer: 1, datatype: 0, name: 'WRITTEN', meaning: 'written zones: k <= phase < k + duty cycle' },
  thinned: {
    layer: 1,
    datatype: 1,
    name: 'THINNED_NOT_FOR_FABRICATION',
    meaning: 'every nth written zone: a picture, not for fabrication',
  },
  marks: {
    layer: 2,
    datatype: 0,
    name: 'MARKS',
    meaning:
      'marks beside the patterns: crosses, arrows, letters, lines to measure; written as the zones are',
  },
  substrate: { layer: 10, datatype: 0, name: 'SUBSTRATE', meaning: 'outline of the substrate, not written' },
  patch: { layer: 11, datatype: 0, name: 'PATCH', meaning: 'outline of a patch, not written' },
  notes: {
    layer: 12,
    datatype: 0,
    name: 'NOTES',
    meaning: 'texts: tone, depth, mirroring, and the id of each patch; not written',
  },
  keepOut: { layer: 13, datatype: 0, name: 'KEEP_OUT', meaning: 'outline of a keep-out, not written' },
  seat: {
    layer: 14,
    datatype: 0,
    name: 'SEAT',
    meaning: 'where a bonded ball or nest touches the glass, not written',
  },
} as const satisfies { readonly [name: string]: PatternLayer };

/** `2/0` */
export const layerWords = ({ layer, datatype }: PatternLayer): string => `${layer}/${datatype}`;
