/*
 * All keys in one place.
 */
import type { JSX } from 'preact';
import type { ActGroup } from '../acts/act.ts';
import { acts } from '../acts/index.ts';
import { showKeys } from '../acts/keys.ts';
import { SwitchField } from '../fields/fields.tsx';
import { areSingleKeysOn } from '../state.ts';

const groups: readonly ActGroup[] = ['Draw', 'Go to', 'Edit', 'Look', 'Job', 'Help'];

const inTheView: readonly (readonly [string, string])[] = [
  ['Arrows', 'turn the body; with a tool in hand, move the crosshair'],
  ['Shift Arrows', 'in larger steps'],
  ['Alt Arrows', 'turn the body while a tool is in hand'],
  ['Space', 'press the tool, and let go; place a point'],
  ['Enter', 'end a line'],
  ['Backspace', 'take the last point back'],
  ['Delete', 'take out the point under the hand'],
  ['Esc', 'let go; nothing has happened'],
  ['+  −', 'nearer, further'],
];

export function KeysDialog(): JSX.Element {
  return (
    <>
      <SwitchField
        label="Tools by a single key"
        note="Off: letters alone do nothing; everything stays in the menus and in the finder."
        isOn={areSingleKeysOn.value}
        onChange={(isOn) => (areSingleKeysOn.value = isOn)}
      />
      <div class="keys">
        {groups.map((group) => (
          <section key={group}>
            <h3>{group}</h3>
            <dl>
              {acts
                .filter((entry) => entry.group === group && entry.keys !== undefined)
                .map((entry) => (
                  <div key={entry.id}>
                    <dt>{entry.title}</dt>
                    <dd>
                      <kbd>{showKeys(entry.keys ?? '')}</kbd>
                    </dd>
                  </div>
                ))}
            </dl>
          </section>
        ))}
        <section>
          <h3>With the body in focus</h3>
          <dl>
            {inTheView.map(([keys, words]) => (
              <div key={keys}>
                <dt>{words}</dt>
                <dd>
                  <kbd>{keys}</kbd>
                </dd>
              </div>
            ))}
          </dl>
        </section>
      </div>
    </>
  );
}
