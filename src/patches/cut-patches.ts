/*
 * Stage 4: areas and lines cut the layers' surfaces into patches that lie flat, each with its sides and the way back. Order of work on each
 * surface: lines are imprinted, then each area's border is cut on the finer mesh, then pieces are opened, checked, paired and named.
 */
import type { F64 } from '../base/arrays.ts';
import type { Finding } from '../base/failure.ts';
import { finding } from '../base/failure.ts';
import { sha256 } from '../base/hash.ts';
import type { Run } from '../base/run.ts';
import { crumbMm2 } from '../base/tolerance.ts';
import { paintField } from '../areas/paint-field.ts';
import type { PaintField } from '../areas/paint-field.ts';
import type { Body } from '../body/body.ts';
import type { LineKind } from '../lines/line.ts';
import { mirrored, mirrorPlane } from '../lines/mirror.ts';
import type { HalfEdgeMesh } from '../mesh/half-edge-mesh.ts';
import { faceAreas } from '../mesh/measure.ts';
import type { Surface } from '../standoff/surface.ts';
import { carryLine, homeOf } from './carry-marks.ts';
import type { FaceHome } from './carry-marks.ts';
import { checkShape, refusal } from './check.ts';
import { cutGraph } from './cut-graph.ts';
import { cutOpen } from './cut-open.ts';
import type { Piece } from './cut-open.ts';
import { fillRegion } from './fill.ts';
import { improveShapes, placesOf } from './freeze.ts';
import { imprintPath } from './imprint.ts';
import { prepareGround } from './land-marks.ts';
import type { Ground } from './land-marks.ts';
import { cutLevel } from './level-line.ts';
import type { Marks } from './marks.ts';
import { namePieces } from './name-pieces.ts';
import type { PieceName } from './name-pieces.ts';
import type { CutResult, Patch, PatchMark, PatchPoint, Seam, Side } from './patch.ts';
import { createRefinement } from './refinement.ts';
import type { Refinement } from './refinement.ts';
import { landMarks, traceStrokes } from './resolve-lines.ts';
import type { LandedArea, LandedMarks } from './resolve-lines.ts';
import { isCutting, reachBorders, traceLines } from './trace-lines.ts';
import type { TracedLine } from './trace-lines.ts';
import { pairSides } from './sides.ts';
import type { PairedSides } from './sides.ts';

/** Patches and meshes of earlier cuts by content: equal content comes back as the same object. Belongs to the caller. */
export interface PatchCache {
  readonly patches: Map<string, Patch>;
  readonly meshes: Map<string, HalfEdgeMesh>;
}

export const createPatchCache = (): PatchCache => ({ patches: new Map(), meshes: new Map() });

/** What cutting one surface gives before ids of seams are known. */
interface CutSurface {
  readonly surface: Surface;
  readonly refinement: Refinement;
  readonly pieces: readonly Piece[];
  readonly names: readonly PieceName[];
  readonly paired: PairedSides;
  readonly traced: readonly TracedLine[];
  readonly findings: readonly Finding[];
  readonly areaMm2: ReadonlyMap<string, number>;
  readonly lineMm: ReadonlyMap<string, number>;
}

/**
 * Cuts all layers along the marks.
 * @param surfaces one a layer, innermost first
 * @param cache patches of earlier results, so that an unchanged patch is the same object
 * @returns patches that can lie flat; a piece that cannot is a severe finding `patches/tube`, `patches/closed` or `patches/handle`
 * Cost: linear in the faces near the marks, plus one walk over the surface.
 */
export async function cutPatches(
  body: Body,
  surfaces: readonly Surface[],
  marks: Marks,
  run: Run,
  cache: PatchCache = createPatchCache(),
): Promise<CutResult> {
  const ground = prepareGround(body.mesh);
  const plane = mirrorPlane(body);
  const landed = landMarks(ground, plane, marks);
  const findings: Finding[] = [...landed.findings, ...missingLayers(marks, surfaces)];
  const cuts: CutSurface[] = [];
  for (const surface of surfaces) {
    if (!marks.areas.some((area) => area.layer === surface.layer)) continue;
    run.report('draw', cuts.length / surfaces.length);
    const cut = await cutSurface(ground, surface, landed, marks, run, plane);
    findings.push(...cut.findings);
    cuts.push(cut);
  }
  const seams = nameSeams(cuts);
  const patches = cuts.flatMap((cut) => makePatches(cut, ground, marks, plane, seams, cache));
  const ids = new Set(patches.map((patch) => patch.id));
  return {
    patches,
    seams: seams.seams.filter((seam) => seam.sides.every((side) => ids.has(side.patch))),
    lines: lineLengths(landed, cuts, surfaces, ground),
    areas: marks.areas.map(({ id }) => ({ id, areaMm2: cuts.reduce((sum, cut) => sum + (cut.areaMm2.get(id) ?? 0), 0) })),
    findings,
  };
}

function missingLayers(marks: Marks, surfaces: readonly Surface[]): Finding[] {
  return marks.areas
    .filter((area) => !surfaces.some((surface) => surface.layer === area.layer))
    .map((area) =>
      finding(
        'severe',
        'marks/no-such-layer',
        `"${area.name || area.id}" lies on layer ${area.layer + 1}, but there ${surfaces.length === 1 ? 'is 1 layer' : `are ${surfaces.length} layers`}.`,
        { stage: 'draw', item: area.id },
        'Give the area one of the layers of the Clearance station, or add a layer there.',
      ),
    );
}

async function cutSurface(
  ground: Ground,
  surface: Surface,
  landed: LandedMarks,
  marks: Marks,
  run: Run,
  plane: ReturnType<typeof mirrorPlane>,
): Promise<CutSurface> {
  const { traced: drawn, findings } = traceLines(ground, surface, landed.lines);
  await run.breathe();
  const areas: { label: number; area: LandedArea; field?: PaintField }[] = [];
  for (const [label, area] of landed.areas.entries()) {
    if (area.mark.layer !== surface.layer) continue;
    const strokes = traceStrokes(ground, surface, area);
    areas.push({ label, area, ...(strokes.length > 0 ? { field: paintField(surface.mesh, strokes, area.mark.growMm) } : {}) });
    await run.breathe();
  }
  const traced = reachBorders(
    surface.mesh,
    drawn,
    areas.flatMap(({ field }) => field ?? []),
  );
  const refinement = createRefinement(surface.mesh);
  const kindOf = new Map<string, LineKind>();
  for (const { id, mark, path } of traced) {
    if (!isCutting(mark)) continue;
    kindOf.set(id, mark.kind);
    imprintPath(refinement, path, id);
    await run.breathe();
  }
  for (const { label, area, field } of areas) {
    if (field) cutLevel(refinement, field, label);
    await run.breathe();
    for (const stroke of area.strokes)
      if (stroke.mode === 'fill') for (const point of stroke.points) fillRegion(refinement, ground.onSurface(surface, point), label);
  }
  improveShapes(refinement);
  const places = placesOf(refinement);
  const graph = cutGraph(refinement, places);
  const areaIds = landed.areas.map(({ mark }) => mark.id);
  const { sound, refused, areaMm2 } = sortPieces(cutOpen(refinement, graph, places), landed);
  const paired = pairSides(refinement, graph, sound, kindOf, areaIds);
  const lineMm = new Map<string, number>();
  for (let h = 0; h < refinement.cut.length; h++) {
    if (refinement.cut[h] === 0 || (refinement.twin[h] !== -1 && refinement.twin[h] < h)) continue;
    for (const id of refinement.cutSets[refinement.cut[h]]) lineMm.set(id, (lineMm.get(id) ?? 0) + graph.lengths[h]);
  }
  const names = namePieces(sound, plane, marks.mirrored, areaIds);
  return { surface, refinement, pieces: sound, names, paired, traced, findings: [...findings, ...refused], areaMm2, lineMm };
}

/** Pieces that can lie flat, findings about the others, and the area of each painted area. */
function sortPieces(pieces: readonly Piece[], landed: LandedMarks): { sound: Piece[]; refused: Finding[]; areaMm2: Map<string, number> } {
  const sound: Piece[] = [];
  const refused: Finding[] = [];
  const areaMm2 = new Map<string, number>();
  for (const piece of pieces) {
    const { id, name } = landed.areas[piece.label].mark;
    const area = faceAreas(piece.mesh).reduce((sum, value) => sum + value, 0);
    areaMm2.set(id, (areaMm2.get(id) ?? 0) + area);
    const check = checkShape(piece.mesh);
    const p = piece.mesh.positions;
    const where = { stage: 'draw', item: id, faces: [...piece.faceToSurfaceFace.slice(0, 20)], at: [p[0], p[1], p[2]] };
    if (area < crumbMm2)
      refused.push(
        finding(
          'note',
          'patches/crumb',
          `The cuts leave a crumb of ${area.toFixed(2)} mm² in "${name || id}"; it was left out.`,
          where,
          'Move a line or the border a little if the crumb should belong to a part.',
        ),
      );
    else if (check.shape === 'disc' || check.shape === 'ring') sound.push(piece);
    else refused.push({ severity: 'severe', ...refusal(`"${name || id}"`, check, where.faces, where.at) });
  }
  return { sound, refused, areaMm2 };
}

/** Seams of all layers with their ids, and the id of each side's seam by surface and side. */
function nameSeams(cuts: readonly CutSurface[]): {
  readonly seams: Seam[];
  readonly idOf: ReadonlyMap<CutSurface, ReadonlyMap<number, string>>;
} {
  const all = cuts.flatMap((cut, c) => cut.paired.seams.map((seam, s) => ({ cut, seam, order: [c, s] })));
  all.sort((a, b) => b.seam.lengthMm - a.seam.lengthMm || a.order[0] - b.order[0] || a.order[1] - b.order[1]);
  const idOf = new Map(cuts.map((cut) => [cut, new Map<number, string>()]));
  const seams = all.map(({ cut, seam }, i): Seam => {
    const id = `S${i + 1}`;
    for (const side of seam.sides) idOf.get(cut)?.set(side, id);
    const sideAt = (side: number): { patch: string; side: number } => {
      const { piece } = cut.paired.sides[side];
      return { patch: cut.names[piece].id, side: cut.paired.loopsOf[piece].flat().indexOf(side) };
    };
    return { id, kind: seam.kind, line: seam.line, sides: [sideAt(seam.sides[0]), sideAt(seam.sides[1])], surfaceMm: seam.lengthMm };
  });
  return { seams, idOf };
}

function makePatches(
  cut: CutSurface,
  ground: Ground,
  marks: Marks,
  plane: ReturnType<typeof mirrorPlane>,
  seams: ReturnType<typeof nameSeams>,
  cache: PatchCache,
): Patch[] {
  const { pieces, refinement, surface } = cut;
  const homes = new Map<number, { piece: number; face: number }>();
  for (const [piece, { faces }] of pieces.entries()) for (const [face, f] of faces.entries()) homes.set(f, { piece, face });
  const home: FaceHome = (f) => homes.get(f);
  const carried = cut.traced.flatMap((line) => carryLine(refinement, home, line));
  const landOn = (at: readonly [number, number, number]): ReturnType<typeof homeOf> => {
    const landing = ground.land(at);
    return landing && homeOf(refinement, home, ground.onSurface(surface, landing));
  };
  const fittings = marks.points.flatMap((mark) => {
    const places = [{ id: mark.id, at: mark.at }];
    if (marks.mirrored) places.push({ id: `${mark.id}:mirror`, at: mirrored(plane, mark.at) });
    return places.flatMap(({ id, at }) => {
      const spot = landOn(at);
      return spot
        ? [{ piece: spot.piece, point: { id, kind: mark.kind, face: spot.face, weights: spot.weights } satisfies PatchPoint }]
        : [];
    });
  });
  const given = new Map<number, string>();
  for (const { at, name } of marks.names) {
    const spots = marks.mirrored ? [landOn(at), landOn(mirrored(plane, at))] : [landOn(at)];
    for (const spot of spots.reverse()) if (spot) given.set(spot.piece, name);
  }
  return pieces.map((piece, i) => {
    const own = fittings.filter((fitting) => fitting.piece === i).map(({ point }) => point);
    return makePatch(cut, i, {
      name: given.get(i) ?? marks.areas[piece.label].name,
      area: marks.areas[piece.label].id,
      forming: marks.areas[piece.label].forming,
      marks: carried.filter((part) => part.piece === i).map(({ mark }) => mark),
      points: own,
      seamOf: seams.idOf.get(cut) ?? new Map<number, string>(),
      cache,
    });
  });
}

interface PatchParts {
  readonly name: string;
  readonly area: string;
  readonly forming: 'bent' | 'domed';
  readonly marks: readonly PatchMark[];
  readonly points: readonly PatchPoint[];
  readonly seamOf: ReadonlyMap<number, string>;
  readonly cache: PatchCache;
}

function makePatch(cut: CutSurface, i: number, parts: PatchParts): Patch {
  const piece = cut.pieces[i];
  const { id, side, pair } = cut.names[i];
  const faceAt = new Map(piece.faces.map((f, k) => [f, k]));
  const local = (h: number): number => 3 * (faceAt.get(Math.floor(h / 3)) ?? 0) + (h % 3);
  const loops = cut.paired.loopsOf[i];
  const order = loops.flat();
  const sides = order.map((s): Side => {
    const raw = cut.paired.sides[s];
    const seam = parts.seamOf.get(s);
    return {
      halfEdges: Uint32Array.from(raw.halfEdges, local),
      kind: raw.kind,
      ...(raw.line === undefined ? {} : { line: raw.line }),
      ...(seam === undefined ? {} : { seam }),
    };
  });
  const mesh = intern(parts.cache, piece.mesh);
  const longest = loops.map((loop) => loop.reduce((sum, s) => sum + cut.paired.sides[s].lengthMm, 0));
  let next = 0;
  const indexed = loops.map((loop) => loop.map(() => next++));
  const byLength = indexed.map((loop, k) => ({ loop, length: longest[k] })).sort((a, b) => b.length - a.length);
  const content = {
    id,
    area: parts.area,
    name: parts.name,
    side,
    ...(pair === undefined ? {} : { pair }),
    layer: cut.surface.layer,
    material: cut.surface.material,
    forming: parts.forming,
    mesh,
    toSurface: piece.toSurface,
    faceToSurfaceFace: piece.faceToSurfaceFace,
    loops: byLength.map(({ loop }) => loop),
    sides,
    marks: parts.marks,
    points: parts.points,
  };
  const hash = hashOf(content);
  const known = parts.cache.patches.get(hash);
  if (known) return known;
  const patch: Patch = { ...content, hash };
  parts.cache.patches.set(hash, patch);
  return patch;
}

const bytesOf = (array: F64 | Patch['faceToSurfaceFace']): Uint8Array => {
  const own = array as unknown as Float64Array;
  return new Uint8Array(own.buffer, own.byteOffset, own.byteLength);
};

/** The same mesh object for the same positions and faces. */
function intern(cache: PatchCache, mesh: HalfEdgeMesh): HalfEdgeMesh {
  const hash = sha256(bytesOf(mesh.positions), bytesOf(mesh.faces));
  const known = cache.meshes.get(hash);
  if (known) return known;
  cache.meshes.set(hash, mesh);
  return mesh;
}

function hashOf(content: Omit<Patch, 'hash'>): string {
  const { mesh, toSurface, faceToSurfaceFace, sides, marks, ...plain } = content;
  const words = JSON.stringify([
    plain,
    sides.map(({ halfEdges, ...rest }) => ({ ...rest, halfEdges: Array.from(halfEdges) })),
    marks.map(({ points, ...rest }) => ({ ...rest, faces: Array.from(points.face), weights: Array.from(points.weights) })),
  ]);
  return sha256(
    new TextEncoder().encode(words),
    bytesOf(mesh.positions),
    bytesOf(mesh.faces),
    bytesOf(toSurface.face),
    bytesOf(toSurface.weights),
    bytesOf(faceToSurfaceFace),
  );
}

/** Length of every line: of its imprint on the innermost layer that it was cut into, else of its path on the innermost surface. */
function lineLengths(landed: LandedMarks, cuts: readonly CutSurface[], surfaces: readonly Surface[], ground: Ground): CutResult['lines'] {
  const missing = landed.lines.filter(({ id }) => !cuts.some((cut) => cut.traced.some((line) => line.id === id)));
  const extra = surfaces.length > 0 && cuts.length === 0 ? traceLines(ground, surfaces[0], missing).traced : [];
  return landed.lines.flatMap(({ id, mark }) => {
    const imprint = cuts.find((cut) => cut.lineMm.has(id))?.lineMm.get(id);
    const path = [...cuts.flatMap((cut) => cut.traced), ...extra].find((line) => line.id === id)?.path;
    const lengthMm = imprint ?? path?.length;
    return lengthMm === undefined ? [] : [{ id, kind: mark.kind, lengthMm }];
  });
}
