/*
 * Words that `inspect` and `flatten` share: the unit and the axes of a mesh file.
 */
import type { Axis } from '../../src/body/body.ts';
import type { LengthUnit } from '../../src/units/length.ts';
import { lengthUnits } from '../../src/units/length.ts';
import type { CliOption, ParsedWords } from './words.ts';
import { choiceOption } from './words.ts';

const axes: readonly Axis[] = ['x', 'y', 'z', '-x', '-y', '-z'];

export const unitOption: CliOption = { type: 'string', value: 'UNIT', help: `what one unit of the file is: ${lengthUnits.join(', ')}` };
export const upOption: CliOption = { type: 'string', value: 'AXIS', help: 'axis that points up: x, y, z, -x, -y, -z (default y)' };

export const unitOf = (words: ParsedWords): LengthUnit | undefined => choiceOption(words, 'unit', lengthUnits);
export const upOf = (words: ParsedWords): Axis | undefined => choiceOption(words, 'up', axes);
