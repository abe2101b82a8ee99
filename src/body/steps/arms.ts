/*
 * Webs split and arms taken off, where the maker asks.
 */
import { finding } from '../../base/failure.ts';
import { cutArms } from '../arms.ts';
import { splitWebs, webThicknessMm } from '../webs.ts';
import type { Step } from './step.ts';

export const webStep: Step = {
  name: 'webs',
  isDefault: false,
  mend: async (triangles, { asked, up }, run) => {
    const thickness = Math.max(...asked.map((entry) => entry.maxMm ?? webThicknessMm));
    const { triangles: split, count, areaMm2 } = await splitWebs(triangles, up, thickness, run);
    if (count === 0)
      return {
        triangles,
        repairs: [],
        findings: [
          finding(
            'note',
            'body/no-webs',
            `No wall thinner than ${thickness} mm spans the armpits or the legs.`,
            { stage: 'body' },
            'If arms and trunk have grown together in full width, take the arms off (step "cut-arms").',
          ),
        ],
      };
    const what = `${count} patches of thin wall (${(areaMm2 / 100).toFixed(0)} cm²) were taken out and the slits closed.`;
    return { triangles: split, repairs: [{ step: 'webs', what, count, largestMm: thickness, done: true }], findings: [] };
  },
};

export const cutArmsStep: Step = {
  name: 'cut-arms',
  isDefault: false,
  mend: async (triangles, { up, front }) => {
    const { triangles: armless, arms } = cutArms(triangles, up, front);
    if (arms > 0)
      return {
        triangles: armless,
        repairs: [{ step: 'cut-arms', what: `${arms === 1 ? 'One arm was' : `${arms} arms were`} cut off.`, count: arms, done: true }],
        findings: [],
      };
    const none = finding(
      'warning',
      'body/no-arms',
      'No arm was found beside the trunk.',
      { stage: 'body' },
      'Check which axis is up, or cut each arm off by a plane (step "cut-part", its point in the cut, its normal towards the arm).',
    );
    return { triangles, repairs: [], findings: [none] };
  },
};
