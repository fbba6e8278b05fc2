/** Where a tracker says that the part is, in plain lines for the bench: µm, µrad and turns; ± one standard uncertainty. */
import { rounded, signed } from '../steering/bench-figures.ts';
import type { transferReport } from './transfer-report.ts';

type Figures = Readonly<Record<string, number>>;

interface Side {
  readonly points: readonly {
    readonly point: string;
    readonly residual_um: Figures;
    readonly probability: number;
  }[];
  readonly outliers: readonly string[];
  readonly consistency: {
    readonly chiSquared: number;
    readonly degreesOfFreedom: number;
    readonly probability: number;
  };
}

interface Report {
  readonly registrations: { readonly hologram: Side | null; readonly part: Side | null };
  readonly referencesInTracker: readonly { readonly id: string; readonly at_mm: readonly number[] }[];
  readonly part: {
    readonly move_um: Figures;
    readonly move_urad: Figures;
    readonly sigma: Figures;
    readonly combined: Figures;
  } | null;
  readonly stage?: readonly { readonly id: string; readonly turns: number }[];
}

export function transferText(row: ReturnType<typeof transferReport>): string {
  const { registrations, referencesInTracker, part, stage } = row as unknown as Report;
  const lines = [
    ...sideLines(registrations.hologram, 'At the hologram’s foci'),
    ...sideLines(registrations.part, 'On the part'),
  ];
  if (part !== null) {
    const { move_um, move_urad, sigma, combined } = part;
    lines.push(
      'Part: moves to make, along its own axes, rotated about its own origin, ± one standard uncertainty of the tracker (in brackets: full budget):',
      `  ${sixText(move_um, sigma, combined, 'µm')}`,
      `  ${sixText(move_urad, sigma, combined, 'µrad')}`,
    );
    if (stage !== undefined)
      lines.push(
        `Screws, in turns: ${stage.map(({ id, turns }) => `${id} ${signed(turns, 0.01)}`).join('   ')}`,
      );
  } else if (registrations.hologram !== null) {
    lines.push('No points on the part. Design positions of the references, tracker frame, mm:');
    for (const { id, at_mm } of referencesInTracker)
      lines.push(`  ${id}: ${at_mm.map((value) => value.toFixed(3)).join(', ')}`);
  } else {
    lines.push(
      'No points at the hologram’s foci: the part’s position in the hologram’s frame cannot be determined.',
    );
  }
  return `${lines.join('\n')}\n`;
}

function sideLines(side: Side | null, title: string): readonly string[] {
  if (side === null) return [];
  const { points, outliers, consistency } = side;
  const { chiSquared, degreesOfFreedom, probability } = consistency;
  return [
    `${title}: ${points.length} points, χ² ${chiSquared.toPrecision(3)} for ${degreesOfFreedom} degrees of freedom (probability ${probability.toPrecision(2)}); residuals, µm:`,
    ...points.map(({ point, residual_um: { x, y, z } }) => {
      const suspect = outliers.includes(point) ? '   does not fit' : '';
      return `  ${point}  ${[x, y, z].map((value) => signed(value!, 1)).join('  ')}${suspect}`;
    }),
  ];
}

const sixText = (move: Figures, sigma: Figures, combined: Figures, unit: string): string =>
  Object.entries(move)
    .map(
      ([degree, value]) =>
        `${degree} ${signed(value, sigma[degree]!)} ± ${rounded(sigma[degree]!)} (${rounded(combined[degree]!)}) ${unit}`,
    )
    .join('   ');
