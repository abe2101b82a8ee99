/*
 * `npm run pictures`: the README's pictures, one a station, made from the sample job in Chromium.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { root } from '../support/sources.ts';
import { launchChromium, openPage, sampleId, settled, startBench } from '../support/page.ts';

const stations = ['Body', 'Clearance', 'Draw', 'Lay flat', 'Draft', 'Sheets', 'Print and cut'] as const;
const folder = process.argv[2] ?? join(root, 'web/pictures');

mkdirSync(folder, { recursive: true });
const bench = await startBench();
const browser = await launchChromium();
try {
  await (await fetch(`${bench.server.address}api/sample`)).json();
  const { page, complaints } = await openPage(browser, bench, `#job=${sampleId}`, { width: 1440, height: 900 });
  await page.waitForTimeout(3000);
  await settled(page);
  for (const station of stations) {
    await page.getByRole('tab', { name: new RegExp(station) }).click();
    await page.waitForTimeout(700);
    if (station === 'Lay flat')
      await page.waitForFunction(
        () => document.querySelectorAll('.flat-part .strain').length === document.querySelectorAll('.flat-part').length,
      );
    await page.screenshot({ type: 'jpeg', quality: 62, path: join(folder, `${station.toLowerCase().replaceAll(' ', '-')}.jpg`) });
  }
  for (const complaint of complaints) console.error(complaint);
} finally {
  await browser.close();
  await bench.close();
}
