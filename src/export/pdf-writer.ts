/*
 * A small PDF 1.7 writer [iso32000]: objects, streams, cross-reference table, standard fonts in WinAnsiEncoding so that text can be found
 * and copied. Everything on a page is given in millimetres, y up: one matrix takes it to points. The file's identity comes from its content and
 * every date from the caller, so the same job gives the same bytes.
 */
import { sha256 } from '../base/hash.ts';
import { decimal } from './decimal.ts';
import { winAnsiByte } from './win-ansi.ts';
import { deflate } from './zip.ts';

/** Points in a millimetre: 72/25.4. */
export const pointsPerMm = 72 / 25.4;
/** Largest page side, points [iso32000 annex C.2]; 5080 mm. */
export const largestPagePoints = 14400;

/** A number of a content stream: 10 nm in millimetre space. */
export const pdfNumber = (value: number): string => decimal(value, 5);

/** Reference to an object, by number. */
export type PdfRef = number;
export const refText = (ref: PdfRef): string => `${ref} 0 R`;

export interface PdfPage {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Content in millimetres. */
  readonly content: string;
  /** Form XObjects by the name that the content uses. */
  readonly forms: Readonly<Record<string, PdfRef>>;
}

/** A document as it grows. Objects may be written in any order; `finish` closes it. */
export interface PdfDocument {
  /** Adds an object and gives its reference. */
  readonly add: (body: string) => PdfRef;
  /** Adds a stream, deflated. `entries` are dictionary entries without the brackets. */
  readonly addStream: (entries: string, content: string) => PdfRef;
  /** Adds an RGB picture as an image; it is drawn in the unit square. */
  readonly addImage: (picture: { readonly width: number; readonly height: number; readonly rgb: Uint8Array }) => PdfRef;
  /** The optional-content group of a name, made when first asked for. */
  readonly layer: (name: string) => PdfRef;
  /** Resources that content may use: the fonts, all layers asked for so far, and forms. */
  readonly resources: (forms?: Readonly<Record<string, PdfRef>>) => string;
  readonly addPage: (page: PdfPage) => void;
  /** The file. Call once. */
  readonly finish: () => Uint8Array;
}

const fonts = { F1: 'Helvetica', F2: 'Helvetica-Bold' } as const;

/**
 * Begins a document.
 * @param about title, and the ISO date of the job
 */
export function createPdf(about: { readonly title: string; readonly date: string }): PdfDocument {
  const bodies: (string | Uint8Array)[] = [];
  const pages: PdfRef[] = [];
  const layers = new Map<string, PdfRef>();
  const add = (body: string): PdfRef => bodies.push(body);
  const addBytes = (entries: string, content: Uint8Array): PdfRef => {
    const packed = deflate(content);
    const head = `<< ${entries} /Filter /FlateDecode /Length ${packed.length} >>\nstream\n`;
    return bodies.push(joinBytes([latinBytes(head), packed, latinBytes('\nendstream')]));
  };
  const addStream = (entries: string, content: string): PdfRef => addBytes(entries, latinBytes(content));
  const addImage: PdfDocument['addImage'] = ({ width, height, rgb }) =>
    addBytes(`/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /ColorSpace /DeviceRGB /BitsPerComponent 8`, rgb);
  const root = add('');
  const tree = add('');
  const fontRefs = Object.entries(fonts).map(
    ([name, base]) => [name, add(`<< /Type /Font /Subtype /Type1 /BaseFont /${base} /Encoding /WinAnsiEncoding >>`)] as const,
  );
  const layer = (name: string): PdfRef => {
    const known = layers.get(name);
    if (known !== undefined) return known;
    const made = add(`<< /Type /OCG /Name ${unicodeString(name)} >>`);
    layers.set(name, made);
    return made;
  };
  const refs = (entries: readonly (readonly [string, PdfRef])[]): string =>
    entries.map(([name, ref]) => `/${name} ${refText(ref)}`).join(' ');
  const resources = (forms: Readonly<Record<string, PdfRef>> = {}): string =>
    `<< /Font << ${refs(fontRefs)} >> /Properties << ${refs([...layers])} >> /XObject << ${refs(Object.entries(forms))} >> >>`;
  const addPage = (page: PdfPage): void => {
    const scale = decimal(pointsPerMm, 12);
    const content = addStream('', `q ${scale} 0 0 ${scale} 0 0 cm\n${page.content}\nQ\n`);
    const box = `[0 0 ${pdfNumber(page.widthMm * pointsPerMm)} ${pdfNumber(page.heightMm * pointsPerMm)}]`;
    pages.push(
      add(`<< /Type /Page /Parent ${refText(tree)} /MediaBox ${box} /Resources ${resources(page.forms)} /Contents ${refText(content)} >>`),
    );
  };
  const finish = (): Uint8Array => {
    const groups = [...layers.values()].map(refText).join(' ');
    const optional = layers.size > 0 ? ` /OCProperties << /OCGs [${groups}] /D << /Order [${groups}] /ON [${groups}] >> >>` : '';
    bodies[root - 1] = `<< /Type /Catalog /Pages ${refText(tree)} /ViewerPreferences << /PrintScaling /None >>${optional} >>`;
    bodies[tree - 1] = `<< /Type /Pages /Count ${pages.length} /Kids [${pages.map(refText).join(' ')}] >>`;
    const day = `D:${about.date.replaceAll('-', '')}120000Z`;
    const info = add(`<< /Title ${unicodeString(about.title)} /Producer (Plastron) /CreationDate (${day}) /ModDate (${day}) >>`);
    return writeFile(bodies, root, info);
  };
  return { add, addStream, addImage, layer, resources, addPage, finish };
}

function writeFile(bodies: readonly (string | Uint8Array)[], root: PdfRef, info: PdfRef): Uint8Array {
  const chunks: Uint8Array[] = [latinBytes('%PDF-1.7\n%\u00e2\u00e3\u00cf\u00d3\n')];
  let length = chunks[0].length;
  const put = (chunk: Uint8Array): void => {
    chunks.push(chunk);
    length += chunk.length;
  };
  const offsets = bodies.map((body, index) => {
    const at = length;
    put(latinBytes(`${index + 1} 0 obj\n`));
    put(typeof body === 'string' ? latinBytes(body) : body);
    put(latinBytes('\nendobj\n'));
    return at;
  });
  const start = length;
  const id = sha256(joinBytes(chunks)).slice(0, 32);
  const rows = offsets.map((offset) => `${String(offset).padStart(10, '0')} 00000 n \n`).join('');
  put(latinBytes(`xref\n0 ${bodies.length + 1}\n0000000000 65535 f \n${rows}`));
  put(latinBytes(`trailer\n<< /Size ${bodies.length + 1} /Root ${refText(root)} /Info ${refText(info)} /ID [<${id}> <${id}>] >>\n`));
  put(latinBytes(`startxref\n${start}\n%%EOF\n`));
  return joinBytes(chunks);
}

/** Text as a literal string in WinAnsiEncoding; what the encoding lacks must have been replaced before. */
export function literalString(text: string): string {
  let out = '(';
  for (const sign of text) {
    const byte = winAnsiByte(sign.codePointAt(0) ?? 0) ?? 0x3f;
    if (sign === '(' || sign === ')' || sign === '\\') out += `\\${sign}`;
    else if (byte < 0x7f) out += sign;
    else out += `\\${byte.toString(8).padStart(3, '0')}`;
  }
  return `${out})`;
}

/** Text as a hexadecimal string in UTF-16, for titles, layer names and /ActualText. */
export function unicodeString(text: string): string {
  let out = '<FEFF';
  for (let k = 0; k < text.length; k++) out += text.charCodeAt(k).toString(16).toUpperCase().padStart(4, '0');
  return `${out}>`;
}

function latinBytes(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length);
  for (let k = 0; k < text.length; k++) bytes[k] = text.charCodeAt(k);
  return bytes;
}

function joinBytes(chunks: readonly Uint8Array[]): Uint8Array {
  const joined = new Uint8Array(chunks.reduce((sum, chunk) => sum + chunk.length, 0));
  let at = 0;
  for (const chunk of chunks) {
    joined.set(chunk, at);
    at += chunk.length;
  }
  return joined;
}
