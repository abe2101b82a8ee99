/*
 * The picture of the body: renderer, eye, light table, and the layers. Drawn only when something changed. Places and directions given and
 * returned are in the body's own axes, mm; screen places in CSS pixels from the view's upper left corner.
 */
import {
  CircleGeometry,
  Color,
  Group,
  Mesh,
  PerspectiveCamera,
  Scene,
  ShaderMaterial,
  SRGBColorSpace,
  Vector3,
  WebGLRenderer,
} from 'three';
import type { Vec3 } from '../../src/base/arrays.ts';
import type { Body } from '../../src/body/body.ts';
import { bounds } from '../../src/mesh/measure.ts';
import { minus, pictureAxes, plus, unit } from './axes.ts';
import type { BodyHit, BodyIndex } from './body-index.ts';
import { createTreeBuilder } from './body-index.ts';
import type { BodyLayer } from './body-layer.ts';
import { createBodyLayer } from './body-layer.ts';
import { makeRings, setVector } from './clay.ts';
import type { LineLayer } from './line-layer.ts';
import { createLineLayer } from './line-layer.ts';
import type { Orbit, ViewName } from './orbit.ts';
import { eyeOf, fit, lens, lookFrom, shift, turn, zoom } from './orbit.ts';
import type { PartHit, PartLayer } from './part-layer.ts';
import { createPartLayer } from './part-layer.ts';
import type { PointLayer } from './point-layer.ts';
import { createPointLayer } from './point-layer.ts';

export interface ScreenPlace {
  readonly x: number;
  readonly y: number;
  /** True where the body hides the place. */
  readonly isHidden: boolean;
}

export interface Ray {
  readonly origin: Vec3;
  readonly direction: Vec3;
}

export interface BodyScene {
  readonly bodyLayer: BodyLayer;
  readonly parts: PartLayer;
  /** Lines of the job. */
  readonly lines: LineLayer;
  /** What a tool is drawing. */
  readonly preview: LineLayer;
  readonly handles: PointLayer;
  readonly marks: PointLayer;
  readonly setBody: (body: Body | undefined) => void;
  readonly setBodyShown: (isShown: boolean) => void;
  readonly setRings: (rings: readonly { readonly at: Vec3; readonly radiusMm: number }[]) => void;
  readonly setTone: (isDark: boolean) => void;
  readonly index: () => BodyIndex | undefined;
  readonly rayAt: (x: number, y: number) => Ray;
  readonly hitBody: (x: number, y: number) => BodyHit | undefined;
  readonly hitPart: (x: number, y: number) => PartHit | undefined;
  readonly project: (place: Vec3) => ScreenPlace;
  readonly look: (name: ViewName) => void;
  readonly fitBody: () => void;
  /** Brings a place into the middle, seen along its normal. */
  readonly lookAt: (place: Vec3, normal?: Vec3) => void;
  readonly turn: (dx: number, dy: number) => void;
  readonly shift: (dx: number, dy: number) => void;
  readonly zoom: (by: number) => void;
  readonly moveTo: (pose: { readonly lift: number; readonly fold: number }) => void;
  readonly redraw: () => void;
  readonly resize: (width: number, height: number, ratio: number) => void;
  /** Told after each picture, so that words over the body can follow. */
  readonly onDrawn: (listener: () => void) => () => void;
  readonly picture: () => Promise<Blob | undefined>;
  readonly dispose: () => void;
}

/** What the tray of tools and the bar of looks cover, pixels. */
const trayPx = 136;
const barPx = 44;

const isStill = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;

/** @throws when the browser has no WebGL: the caller says so */
export function createBodyScene(canvas: HTMLCanvasElement): BodyScene {
  const renderer = new WebGLRenderer({
    canvas,
    antialias: true,
    alpha: true,
    preserveDrawingBuffer: false,
    powerPreference: 'high-performance',
  });
  renderer.outputColorSpace = SRGBColorSpace;
  renderer.setClearAlpha(0);
  // Asking for the compiler's log waits until it has finished; a shader that does not compile shows in the tests.
  renderer.debug.checkShaderErrors = false;
  const camera = new PerspectiveCamera((lens * 180) / Math.PI, 1, 10, 20_000);
  const scene = new Scene();
  const root = new Group();
  const rings = makeRings();
  const trees = createTreeBuilder();
  const bodyLayer = createBodyLayer(rings, trees, redraw);
  const parts = createPartLayer(rings, redraw);
  const lines = createLineLayer(6);
  const preview = createLineLayer(9);
  const handles = createPointLayer(11);
  const marks = createPointLayer(12, true);
  const ground = makeGround();
  root.matrixAutoUpdate = false;
  root.add(bodyLayer.group, parts.group, lines.group, preview.group, handles.object, marks.object);
  scene.add(ground, root);

  let orbit: Orbit = { yaw: 0.42, pitch: 0.1, distance: 2500, target: [0, 0, 0] };
  let box: { readonly min: Vec3; readonly max: Vec3 } | undefined;
  let axes = pictureAxes('y', 'z');
  let size = { width: 1, height: 1 };
  let frame: number | undefined;
  let pose = { lift: 0, fold: 1 };
  let goal = pose;
  let lastTime = 0;
  const listeners = new Set<() => void>();

  function redraw(): void {
    frame ??= requestAnimationFrame(draw);
  }

  function draw(time: number): void {
    frame = undefined;
    if (pose.lift !== goal.lift || pose.fold !== goal.fold) {
      const share = isStill() ? 1 : Math.min(1, Math.max(0.02, (time - lastTime) / 110));
      const near = (a: number, b: number): number => (Math.abs(b - a) < 0.004 ? b : a + (b - a) * share);
      pose = { lift: near(pose.lift, goal.lift), fold: near(pose.fold, goal.fold) };
      parts.setPose(pose.lift, pose.fold);
      redraw();
    }
    lastTime = time;
    aim();
    renderer.render(scene, camera);
    for (const listener of listeners) listener();
  }

  function aim(): void {
    camera.position.set(...eyeOf(orbit));
    camera.lookAt(...orbit.target);
    camera.near = Math.max(1, orbit.distance / 60);
    camera.far = orbit.distance * 3 + 4000;
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
  }

  const inPicture = (p: Vec3): Vec3 => [dot3(axes[0], p), dot3(axes[1], p), dot3(axes[2], p)];
  const inBody = (q: Vec3): Vec3 => plus(plus(plus([0, 0, 0], axes[0], q[0]), axes[1], q[1]), axes[2], q[2]);

  function change(next: Orbit): void {
    orbit = next;
    redraw();
  }

  function rayAt(x: number, y: number): Ray {
    aim();
    const target = new Vector3((2 * x) / size.width - 1, 1 - (2 * y) / size.height, 0.5).unproject(camera);
    const eye = eyeOf(orbit);
    return { origin: inBody(eye), direction: inBody(unit(minus([target.x, target.y, target.z], eye))) };
  }

  const hitBody = (x: number, y: number): BodyHit | undefined => {
    const ray = rayAt(x, y);
    return bodyLayer.index()?.hit(ray.origin, ray.direction);
  };

  const fitBody = (): void => {
    if (box) change(fit(orbit, box.min, box.max, (size.width - trayPx) / size.height));
  };

  return {
    bodyLayer,
    parts,
    lines,
    preview,
    handles,
    marks,
    index: bodyLayer.index,
    setBody: (body) => {
      const isFirst = box === undefined;
      bodyLayer.setMesh(body?.mesh);
      if (body) {
        axes = pictureAxes(body.up, body.front);
        root.matrix.set(...axes[0], 0, ...axes[1], 0, ...axes[2], 0, 0, 0, 0, 1);
        root.matrixWorldNeedsUpdate = true;
        const next = turnedBox(bounds(body.mesh), inPicture);
        const isSame = box !== undefined && Math.hypot(...minus(next.max, box.max), ...minus(next.min, box.min)) < 1;
        box = next;
        placeGround(ground, next);
        if (isFirst || !isSame) fitBody();
      } else box = undefined;
      ground.visible = body !== undefined;
      redraw();
    },
    setBodyShown: (isShown) => {
      bodyLayer.group.visible = isShown;
      redraw();
    },
    setRings: (next) => {
      rings.value.forEach((ring, i) => (i < next.length ? setVector(ring, next[i].at, next[i].radiusMm) : setVector(ring, [0, 0, 0], 0)));
      redraw();
    },
    setTone: (isDark) => {
      bodyLayer.setTone(isDark);
      redraw();
    },
    rayAt,
    hitBody,
    hitPart: (x, y) => {
      const ray = rayAt(x, y);
      return parts.hit(ray.origin, ray.direction);
    },
    project: (place) => {
      const q = new Vector3(...inPicture(place)).project(camera);
      const eye = inBody(eyeOf(orbit));
      const towards = minus(place, eye);
      const hit = bodyLayer.index()?.hit(eye, towards);
      const isHidden = hit !== undefined && Math.hypot(...minus(hit.at, eye)) < Math.hypot(...towards) - 6;
      return { x: ((q.x + 1) / 2) * size.width, y: ((1 - q.y) / 2) * size.height, isHidden };
    },
    look: (name) => change(lookFrom(orbit, name)),
    fitBody,
    lookAt: (place, normal) => {
      const n = normal ? inPicture(normal) : undefined;
      const turned = n ? { yaw: Math.atan2(n[0], n[2]), pitch: Math.asin(Math.max(-0.9, Math.min(0.9, n[1]))) } : {};
      change({ ...orbit, ...turned, target: inPicture(place), distance: Math.min(orbit.distance, 900) });
    },
    turn: (dx, dy) => change(turn(orbit, dx, dy)),
    shift: (dx, dy) => change(shift(orbit, dx, dy, size.height)),
    zoom: (by) => change(zoom(orbit, by)),
    moveTo: (next) => {
      goal = next;
      redraw();
    },
    redraw,
    resize: (width, height, ratio) => {
      const isFirst = size.width === 1;
      size = { width, height };
      renderer.setPixelRatio(Math.min(ratio, 2));
      renderer.setSize(width, height, false);
      handles.setPixelRatio(Math.min(ratio, 2));
      marks.setPixelRatio(Math.min(ratio, 2));
      camera.aspect = width / height;
      // The middle of the picture lies in the middle of what tray and bar leave free.
      camera.setViewOffset(width, height, -trayPx / 2, barPx / 2, width, height);
      if (isFirst) fitBody();
      redraw();
    },
    onDrawn: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    picture: () =>
      new Promise((resolve) => {
        aim();
        renderer.render(scene, camera);
        canvas.toBlob((blob) => resolve(blob ?? undefined));
      }),
    dispose: () => {
      if (frame !== undefined) cancelAnimationFrame(frame);
      trees.dispose();
      renderer.dispose();
    },
  };
}

const dot3 = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

function turnedBox({ min, max }: { readonly min: Vec3; readonly max: Vec3 }, turnPoint: (p: Vec3) => Vec3): { min: Vec3; max: Vec3 } {
  const [a, b] = [turnPoint(min), turnPoint(max)];
  return {
    min: [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.min(a[2], b[2])],
    max: [Math.max(a[0], b[0]), Math.max(a[1], b[1]), Math.max(a[2], b[2])],
  };
}

/** The turntable: a soft shadow, and a ring with a notch at the front. */
function makeGround(): Mesh<CircleGeometry, ShaderMaterial> {
  const material = new ShaderMaterial({
    transparent: true,
    depthWrite: false,
    uniforms: { ink: { value: new Color().setStyle('#0d0a08', SRGBColorSpace) }, light: { value: new Color(0.62, 0.55, 0.47) } },
    vertexShader: /* glsl */ `
      varying vec2 vPlace;
      void main() { vPlace = position.xy; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }
    `,
    fragmentShader: /* glsl */ `
      uniform vec3 ink;
      uniform vec3 light;
      varying vec2 vPlace;
      void main() {
        float r = length(vPlace);
        float shadow = (1.0 - smoothstep(0.12, 0.86, r)) * 0.62;
        float w = fwidth(r);
        float ring = 1.0 - smoothstep(w, 2.0 * w, abs(r - 0.93));
        float angle = atan(vPlace.x, -vPlace.y);
        float step_ = 6.2831853 / 72.0;
        float tick = 1.0 - smoothstep(0.6, 1.6, abs(mod(angle + 0.5 * step_, step_) - 0.5 * step_) * r / w);
        tick *= step(0.93, r) * step(r, 0.96);
        float notch = step(0.93, r) * step(r, 0.985) * (1.0 - smoothstep(0.018, 0.024, abs(angle)));
        float mark = max(max(ring, tick), notch) * 0.4;
        gl_FragColor = vec4(mix(ink, light, mark > shadow ? 1.0 : 0.0), max(shadow, mark));
      }
    `,
  });
  const ground = new Mesh(new CircleGeometry(1, 96), material);
  ground.rotation.x = -Math.PI / 2;
  ground.renderOrder = -1;
  ground.visible = false;
  return ground;
}

function placeGround(ground: Mesh, box: { readonly min: Vec3; readonly max: Vec3 }): void {
  const radius = Math.max(box.max[0] - box.min[0], box.max[2] - box.min[2]) * 0.7;
  ground.position.set((box.min[0] + box.max[0]) / 2, box.min[1] - 2, (box.min[2] + box.max[2]) / 2);
  ground.scale.set(radius, radius, radius);
}
