/*
 * Every tolerance of the project, by name and derived from a stated length. No other file in `src` holds a bare 1e-something.
 * Lengths in mm.
 */

/** Relative slack of double-precision sums over a few thousand terms. */
export const roundOff = 1e-12;

/** Vertices closer than this share of the mesh's diagonal are one vertex when a maker asks for a weld without naming a distance. */
export const weldShare = 1e-7;

/** A face whose height is below this share of its longest edge counts as degenerate. */
export const sliverShare = 1e-9;

/** A stored mark further from the body than this is a finding (contract). */
export const markReachMm = 25;

/** Outline polylines and fitted curves stay within this of the flattened border (contract of drafting). */
export const outlineMm = 0.1;

/** Cut lines that a file must hold as straight pieces stay within this of the curve. */
export const curveMm = 0.002;

/**
 * A pushed surface is kept if 95 % of its faces come no more than `most` nearer to the body than asked and none more than `least`, mm: chords over
 * rounded rims cost a little, crossing sheets cost much.
 */
export const pushSlackMm = { most: 0.2, least: 1 } as const;

/**
 * Points of a standoff lie this exactly on their level (`settled`); a bridged level that comes this near to the plain one is the plain one (`same`); a
 * rolling ball touches a surface that it misses by less than `touching`, mm.
 */
export const levelFitMm = { settled: 1e-6, same: 0.15, touching: 0.02 } as const;

/** Border edges of a flat part that come within this share of the part's diagonal touch; they overlap only if the part lies double beside them. */
export const touchShare = 1e-9;

/** Strain within this distance of a dart's tip is left out of the judgement, mm: the tip is a singular point of any map. */
export const dartTipMm = 10;

/** Connected faces beyond a strain limit count once they cover more than this, mm² (contract: 4 cm²). */
export const strainPatchMm2 = 400;

/** A part has collapsed if a face keeps less than this share of its width, or all faces less or more than these shares of their area. */
export const collapse = { leastSigma: 0.2, areaRatio: [0.7, 1.3] } as const;

/** Smallest σ₂ that a strain 1/σ₂ − 1 is formed of: keeps the strain of a flipped or collapsed face a finite number. */
export const leastSigma = 1e-6;

/** A fitted piece whose control points lie within this of its chord is drawn as a straight line. */
export const straightMm = 0.01;

/** Cut lines are fitted within this of the seam line, so that with rounding and offsets they stay within `outlineMm`. */
export const seamFitMm = 0.06;

/** Offset curves (cut line, bevel lines) are fitted within this of the exact offset of the seam line. */
export const offsetFitMm = 0.02;

/**
 * Newton on stretch energies: it ends after a full step whose squared decrement was below `decrement` of the energy (the excess over the
 * optimum is half of that before the step, its square after it); below `exactFrom` the exact Hessian is tried; `shift` of the mean diagonal
 * holds the rigid motions; `stalled` is what rounding leaves of an energy; `held` ends steps of a part that touches itself.
 */
export const newtonTolerance = { decrement: 1e-9, exactFrom: 1e-2, shift: 1e-11, stalled: 1e-12, held: 1e-7 } as const;

/** Curves are sampled this closely before they are rounded to plotter units: with half a unit's diagonal it stays within 0.018 mm. */
export const hpglMm = 0.0003;

/** Seams are compared in stretches of about this length, mm: half of the notch spacing on straights, one on curves. */
export const stretchMm = 30;

/** The rule of seams (contract): aims, warnings and refusal for a seam and a stretch of it, mm and share of the length. */
export const seamRule = { aimMm: 0.5, aimShare: 0.002, stretchAimMm: 0.3, warnMm: 2, stretchWarnMm: 1, refuseMm: 3 } as const;

/**
 * How seams are stiffened: softness starts at `first` of the parts' own compliance and falls by `factor` each time the joint energy has
 * settled (a step that promises less than that share of it), until stretches meet within `room` of their aim.
 */
export const seamStiffness = { first: 0.01, factor: 0.01, settled: 1e-8, room: 0.1, sufficientFall: 1e-4, stepLimit: 24 } as const;

/** Outlines of sewn-product files, whose readers expect few points, stay within this of the curve. */
export const sewnMm = 0.008;

/** A crossing nearer to a vertex than this share of the edge runs through the vertex: a path through it grows by less than 1e-9 of the edge. */
export const pathSnapShare = 3e-5;

/** Barycentric coordinates of cut points are whole multiples of this (2⁻⁴⁰): sums are exact, and 10 mm · 2⁻⁴⁰ is 1e-11 mm. */
export const gridStep = 9.094947017729282379150390625e-13;

/** An angle must fall short of π by more than this (rad) before a path is straightened around its vertex. */
export const straightAngle = 1e-10;

/** A surface point whose weight is below this lies on the edge beside it: it moves by 1e-8 mm at most on an edge of 10 mm. */
export const nodeSnapShare = 1e-9;

/** A path that turns by less than this at a node goes straight on there: a bend's own circle is narrower than 0.1 µm at 100 mm, rad. */
export const bendAngle = 1e-6;

/** Ends of lines this near to another line, an area's border or the plane of symmetry are joined to it, mm. */
export const lineSnapMm = 4;

/** A border crossing nearer to a vertex than this, mm, and than `borderSnapShare` of the edge, runs through the vertex. */
export const borderSnapMm = 0.05;
export const borderSnapShare = 0.02;

/** A border polyline stays within about this of the level line that it stands for, mm. */
export const borderSagMm = 0.1;

/** A mark whose points all lie this near to the plane of symmetry is its own mirror image, mm. */
export const onMirrorMm = 2;

/** A piece that the cuts leave smaller than this is dropped with a note, mm². */
export const crumbMm2 = 4;

/**
 * Inverse iteration of the spectral map: `shift` of the border weight (and as much again over all vertices) keeps the factor positive
 * definite where the map is exact; it ends once the eigenvalue changes by less than `settled` of itself or, on flat pieces, `flat`.
 */
export const spectralTolerance = { shift: 1e-9, settled: 1e-9, flat: 1e-14, stepLimit: 100 } as const;

/** Sharpness s of the least-worst map: stages from `first` by `factor` to `last`, at most `stepLimit` Newton steps each. */
export const sharpness = { first: 1, factor: 4, last: 1024, stepLimit: 40 } as const;

/** Parts on a sheet may come closer than the spacing by rounding only. */
export const spacingSlackMm = 1e-3;

/** The barrier between border vertices and edges acts within `reachShare` of the mean border edge; its weight is `weightShare` of that edge squared. */
export const contactTolerance = { reachShare: 0.05, weightShare: 0.01, stepLimit: 80 } as const;

/** A pivot of a factorisation below this share of its own diagonal entry is rounding left over from a singular system. */
export const pivotShare = 1e-14;

/** Ends of curves closer than this are one point: rounding of a few operations on lengths below ten metres. */
export const coincidentMm = 1e-6;

/** A face with a cotangent above this (a height below 1/5000 of its edge) makes a triangulation too poor for its own weights. */
export const poorCotangent = 5000;

/**
 * Untangling: `share` of the worst determinant squared plus `floor` is ε²; `rounds` of at most `steps` quasi-Newton steps with `memory` pairs,
 * each round until a step lowers the energy by less than `stalled` of itself.
 */
export const untangleTolerance = {
  share: 0.04,
  floor: 1e-12,
  rounds: 200,
  steps: 40,
  memory: 8,
  sufficientFall: 1e-4,
  stalled: 1e-5,
} as const;

/** An edge is flipped once the cotangents of its opposite angles sum to less than minus this: at 0 two right angles would flip for ever. */
export const delaunayFlipSum = 1e-9;

/** Weight of staying with the mean normal against meeting every face plane in a mitre: small, so that creases win and near-flat stars are well posed. */
export const stayWithMeanShare = 1e-3;

/** A vertex counts as lying on a cutting plane when it is this near, as a share of the largest coordinate. */
export const onPlaneShare = 1e-11;

/** Two faces cross where an edge of one passes through the other by more than this share of the edge. */
export const crossingShare = 1e-9;

/** A map is looked at this share of an edge's length beside it, to see whether it lies double there. */
export const besideShare = 1e-3;

/** Weight of standing upright among the planes through a line's points, as a squared share of their span. */
export const uprightWeight = 1e-4;

/** Slack by which circles around mesh edges grow in dissection, so that rounding leaves no edge out. */
export const circleSlack = 1e-9;
