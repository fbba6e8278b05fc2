/** `transfer FILE --points CSV`: a tracker's points in, where the part is in the hologram's frame and what to move out. */
import { Option } from 'commander';
import { transfer as transferFrom } from '../../metrology/transfer/transfer.ts';
import { transferFindings } from '../../metrology/transfer/transfer-findings.ts';
import { readTrackedPoints } from '../../reading/tables/read-tracked-points.ts';
import { saidOfTable } from '../../reading/tables/said-of-table.ts';
import { jsonText } from '../../writing/json.ts';
import { transferReport } from '../../writing/transfer/transfer-report.ts';
import { transferText } from '../../writing/transfer/transfer-text.ts';
import { collected, type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { loadScenario } from '../load-scenario.ts';
import { readInput, stdinTwice } from '../read-input.ts';
import { countOf, listing, refusing, sayFindings } from '../say.ts';

interface TransferOptions extends TalkOptions {
  readonly points: string;
  readonly unit?: readonly string[];
  readonly columns?: string;
  readonly decimal?: 'point' | 'comma';
}

export const registerTransfer: Register = ({ program, io, end }) =>
  talkative(program.command('transfer'))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--points <csv>', 'points measured by a laser tracker; - for standard input')
    .option(
      '--unit <unit>',
      'unit of the columns that name none; repeatable, one of length and one of angle',
      collected,
    )
    .option('--columns <names>', 'names of the columns in order, with commas between; - for one to leave out')
    .addOption(
      new Option('--decimal <sign>', 'decimal sign, where the table leaves it open').choices([
        'point',
        'comma',
      ]),
    )
    .summary('tracker points in, position of the part and moves to make out')
    .description(
      'Ties a tracker to the hologram by retroreflectors at their foci, and to the part by retroreflectors that touch its datums: two\n' +
        'rigid motions, each fitted with the covariances as weights. Prints where the part is, what to move, and which points do not fit.\n' +
        'Columns: point,x_mm,y_mm,z_mm with sx_mm,sy_mm,sz_mm if known, or point,range_mm,azimuth_deg,elevation_deg with\n' +
        'srange_mm and sazimuth_deg,selevation_deg or sazimuth_arcsec,selevation_arcsec. The s columns are standard uncertainties\n' +
        '(default: 20 um per axis, or 10 um and 1 arcsec). Tracker frame: right-handed, azimuth from +x toward +y, elevation up.\n' +
        'A point has the name of its reference: north@hologram is at its focus, north@part touches the part. A bare id means the\n' +
        'part if the reference touches datums and no patch serves it, otherwise the focus. Capitals, and _ for - or @, do not matter.\n' +
        'Commas, semicolons, tabs or blanks separate the columns; zenith_deg may stand for elevation_deg. Lines above the header and columns\n' +
        'not listed here are passed over; a point measured several times is averaged. The output starts with how the table was read.\n' +
        'Two exchanged names and a wrong diameter common to all retroreflectors on the part are found and suggested, never corrected.',
    )
    .addHelpText(
      'after',
      '\nExample:\n  datumlight transfer examples/transfer-mirror-on-rim.yaml --points examples/transfer-mirror-on-rim.points.csv',
    )
    .action((file: string, options: TransferOptions) => end(transfer(file, options, io)));

async function transfer(file: string, options: TransferOptions, io: Io): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const told = saidOfTable(options);
  if ('findings' in told) return refuse('--unit', { findings: told.findings });
  const twice = stdinTwice(file, options.points, '--points', 'points');
  if (twice !== undefined) return refuse('<stdin>', { findings: [twice] });
  const loaded = await loadScenario(file, io);
  const { design } = loaded;
  if (design === undefined) return refuse(loaded.file, loaded);
  if (!options.json) sayFindings(loaded.findings, loaded.text, io.stderr, io, options);
  const input = await readInput(options.points, io);
  if ('finding' in input) return refuse(input.name, { findings: [input.finding] });
  const table = readTrackedPoints(input.text, input.name, design.scenario, told.said);
  if ('findings' in table) return refuse(input.name, { findings: table.findings, text: input.text });
  const result = transferFrom(design, table.points);
  if ('findings' in result) return refuse(input.name, { findings: result.findings, text: input.text });
  const findings = transferFindings(result.transfer);
  const report = transferReport(design, result.transfer, findings, table.table);
  if (options.json) io.stdout.write(jsonText({ ...listing(report), points: input.name }));
  else {
    sayFindings(findings, input.text, io.stderr, io, options);
    io.stdout.write(transferText(report));
  }
  return countOf(findings, 'error') > 0 ? EXIT.rulesBroken : EXIT.fine;
}
