/** Substrate, keep-outs and fabrication process. mm. */
import type { KeepOut, Process, Substrate } from '../../scenario/scenario.ts';
import { assemble, assembleList, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { identifier, uniqueIds } from '../yaml/identifiers.ts';
import { type Limits, NOT_NEGATIVE, POSITIVE, quantity, word } from '../yaml/values.ts';
import { buildOutline } from './build-outline.ts';

/** From no glass at all to beyond germanium. */
const INDICES: Limits = { atLeast: 1, atMost: 5 };
const DUTY_CYCLES: Limits = { moreThan: 0, lessThan: 1 };

export function buildSubstrate(field: Field): Read<Substrate> {
  const thickness = quantity(field.get('thickness'), 'length', NOT_NEGATIVE, 0);
  return assemble({
    outline: buildOutline(field.get('outline'), [0, 0]),
    thickness,
    material: buildMaterial(field, thickness),
    patternFaces: word(field.get('patternFaces'), ['part', 'interferometer'], 'part'),
    edgeMargin: quantity(field.get('edgeMargin'), 'length', NOT_NEGATIVE, 0),
    clearance: quantity(field.get('clearance'), 'length', NOT_NEGATIVE, 0),
  });
}

function buildMaterial(field: Field, thickness: Read<number>): Read<Substrate['material']> {
  const [glass, index] = [field.get('glass'), field.get('index')];
  const given = quantity(index, 'number', INDICES, undefined);
  if (glass.present && index.present) {
    return index.report(
      'conflicting-keys',
      '`glass` and `index` both give the refractive index',
      'keep one of them',
    );
  }
  // Whether the name is one of the table the schema has said.
  if (glass.present) return typeof glass.value === 'string' ? { glass: glass.value } : FAULTY;
  if (given === FAULTY) return FAULTY;
  if (given !== undefined) return { index: given };
  const misspelled = ['glass', 'index'].some((key) => field.reading.misspelled(field.path, key));
  if (thickness === FAULTY || misspelled) return FAULTY;
  if (thickness === 0) return { index: 1 };
  return field.report(
    'missing-key',
    `the substrate is ${thickness} mm thick but has no material`,
    'add `glass` or `index`',
  );
}

export function buildKeepOuts(field: Field): Read<readonly KeepOut[]> {
  if (field.present && !Array.isArray(field.value)) return FAULTY;
  const items = field.items();
  uniqueIds(items.map((item) => item.get('id')));
  return assembleList(
    items.map((item) =>
      assemble<KeepOut>({
        id: identifier(item.get('id')),
        outline: buildOutline(item.get('outline'), [0, 0]),
        pattern: yes(item.get('pattern')),
      }),
    ),
  );
}

/** Nothing given is false. */
const yes = (field: Field): Read<boolean> => {
  if (!field.present) return false;
  return typeof field.value === 'boolean' ? field.value : FAULTY;
};

export function buildProcess(field: Field): Read<Process> {
  return assemble({
    kind: word(field.get('kind'), ['etched', 'chrome'], 'etched'),
    minFeature: quantity(field.get('minFeature'), 'length', POSITIVE, 1e-3),
    dutyCycle: quantity(field.get('dutyCycle'), 'number', DUTY_CYCLES, 0.5),
    placement: quantity(field.get('placement'), 'length', NOT_NEGATIVE, 1e-4),
  });
}
