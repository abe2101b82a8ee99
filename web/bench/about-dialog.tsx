/*
 * What Plastron is, and what it is not.
 */
import type { JSX } from 'preact';

export function AboutDialog(): JSX.Element {
  return (
    <div class="prose">
      <p>
        Plastron turns a body into flat parts of foam, leather, card or thermoplastic that meet along every seam. It computes on this
        machine; nothing is sent anywhere.
      </p>
      <p>
        <strong>Costume armour is not protective equipment.</strong> Nothing made with it stops a blow, a blade or a fall.
      </p>
      <p>
        Figures about materials carry their source or the words “measure a coupon”: a coupon of your own sheet is worth more than any table.
      </p>
      <p>
        Contact cement gives off solvents that burn: work in moving air, away from flames and heat guns. Wear a mask for sanding dust. Cut
        away from the hand. Heated foam can give off irritating fumes. Never laser anything that holds chlorine, such as PVC. The product’s
        safety sheet, the rules of your workshop and local law come first.
      </p>
    </div>
  );
}
