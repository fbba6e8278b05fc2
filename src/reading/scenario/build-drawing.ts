/** What the drawing's title block and sheet are to be. */
import { type DrawingWish, SHEET_WORDS } from '../../scenario/drawing-wish.ts';
import { assemble, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { word } from '../yaml/values.ts';

export function buildDrawing(field: Field): Read<DrawingWish> {
  return assemble({
    number: text(field.get('number')),
    revision: text(field.get('revision')),
    owner: text(field.get('owner')),
    creator: text(field.get('creator')),
    approver: text(field.get('approver')),
    documentType: text(field.get('documentType'), 'Layout drawing'),
    page: text(field.get('page'), '1 of 1'),
    sheet: word(field.get('sheet'), SHEET_WORDS, 'ISO'),
    date: text(field.get('date')),
  });
}

/** A revision may be a letter or a number. */
function text({ value: given }: Field, standard = ''): Read<string> {
  const value = given ?? standard;
  if (typeof value === 'string') return value;
  return typeof value === 'number' && Number.isFinite(value) ? String(value) : FAULTY;
}
