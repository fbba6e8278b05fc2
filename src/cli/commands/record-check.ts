/**
 * `record FILE --check JSON --package DIR`: whether a record has its form, is as it was written, belongs to the package and the scenario, and
 * whether its figures follow from its readings, worked out anew.
 */
import { dirname, join } from 'node:path';
import type { Design } from '../../design/design.ts';
import { withUnixLineEnds } from '../../disk/line-ends.ts';
import { checkedPackage } from '../../disk/package-check.ts';
import type { Code } from '../../finding/codes.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { validate } from '../../reading/generated/validate-record.js';
import { jsonText } from '../../writing/json.ts';
import { isUnchanged } from '../../writing/record/alignment-record.ts';
import type { AlignmentRecord } from '../../writing/record/record-form.ts';
import { isRecordPage } from '../../writing/record/record-html.ts';
import { reportedFinding } from '../../writing/report/reported-finding.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import type { Loaded } from '../load-scenario.ts';
import { readInput } from '../read-input.ts';
import { listing, refusing, sayFindings, sayLine } from '../say.ts';
import { VERSION } from '../version.ts';
import type { RecordOptions } from './record.ts';
import { recomputed } from './record-recomputed.ts';

const fault = (rule: Code, message: string, hint: string, option = '--check'): Finding =>
  errorFinding(rule, option, message, hint);

export async function checkRecord(
  design: Design,
  loaded: Loaded,
  path: string,
  options: RecordOptions,
  io: Io,
): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const input = await readInput(path, io);
  if ('finding' in input) return refuse(input.name, { findings: [input.finding] });
  const text = withUnixLineEnds(input.text);
  const read = recordIn(text, input.name);
  if ('findings' in read) return refuse(input.name, read);
  const { record } = read;
  const findings = [
    ...(isUnchanged(text)
      ? []
      : [fault('changed-record', `${input.name} is not as it was written`, 'restore it')]),
    ...(await changedPage(record, path, io)),
    ...packageFindings(record, loaded, options.package),
    ...figureFindings(design, record, loaded),
  ];
  const ok = findings.length === 0;
  if (options.json) {
    const head = { format: 'datumlight-record-check/1', ok, file: input.name, serial: record.serial };
    io.stdout.write(
      jsonText(listing({ ...head, sha256: record.sha256, findings: findings.map(reportedFinding) })),
    );
  } else {
    sayFindings(findings, undefined, io.stderr, io, options);
    if (!options.quiet && ok)
      sayLine(
        io.stdout,
        `${input.name}: record of hologram ${record.serial}, ${record.date}: unchanged, its package unchanged, its figures follow from its readings`,
      );
  }
  return ok ? EXIT.fine : EXIT.different;
}

/** Faults of the form told at once. */
const MOST_FAULTS = 20;

function recordIn(
  text: string,
  name: string,
): { readonly record: AlignmentRecord } | { readonly findings: readonly Finding[] } {
  const hint = 'give record.json as `record` wrote it';
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    return { findings: [fault('bad-record', `${name} is not JSON`, hint)] };
  }
  if (validate(data)) return { record: data as AlignmentRecord };
  const errors = validate.errors ?? [];
  return {
    findings: errors
      .slice(0, MOST_FAULTS)
      .map(({ instancePath, message = 'is not of the form' }) =>
        fault('bad-record', `${name}: ${instancePath === '' ? 'the record' : instancePath} ${message}`, hint),
      ),
  };
}

/** The page beside the record, where there is one. */
async function changedPage(record: AlignmentRecord, path: string, io: Io): Promise<readonly Finding[]> {
  if (path === '-') return [];
  const page = await readInput(join(dirname(path), 'record.html'), io);
  if ('finding' in page) return [];
  const text = withUnixLineEnds(page.text);
  if (isRecordPage(text) && text.includes(record.sha256)) return [];
  const message = `${page.name} is not the page of this record, or was changed`;
  return [fault('changed-record', message, 'restore it, or remove it')];
}

function packageFindings(
  record: AlignmentRecord,
  { hash, named }: Loaded,
  folder: string,
): readonly Finding[] {
  const checked = checkedPackage(folder, { sha256: hash, named });
  if ('findings' in checked) return checked.findings;
  if (checked.package.sha256 === record.package.sha256) return [];
  const message = `the record was made with another package than ${folder}: its manifest’s SHA-256 is ${record.package.sha256}`;
  return [fault('other-package', message, 'give that package', '--package')];
}

function figureFindings(
  design: Design,
  record: AlignmentRecord,
  { hash, named }: Loaded,
): readonly Finding[] {
  const others = [...named].filter(([name, sha256]) => record.scenario.files[name]?.sha256 !== sha256);
  if (record.scenario.sha256 !== hash || others.length > 0) {
    const message = `the record was made with another scenario, SHA-256 ${record.scenario.sha256}`;
    return [fault('other-scenario', message, 'give that scenario')];
  }
  const differing = recomputed(design, record, { hash, named });
  if (differing.length === 0) return [];
  const names = differing.slice(0, MOST_NAMED).join(', ');
  const more = differing.length > MOST_NAMED ? ` and ${differing.length - MOST_NAMED} more` : '';
  const by =
    record.version === VERSION ? '' : `; the record is of version ${record.version}, this is ${VERSION}`;
  return [
    fault(
      'other-figures',
      `these do not follow from its readings: ${names}${more}${by}`,
      'do not rely on them',
    ),
  ];
}

/** Figures in a message. */
const MOST_NAMED = 8;
