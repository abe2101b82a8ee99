/*
 * Matte clay under workshop light: one key light from the upper left, a warm bounce from the bench, darker hollows. The same shader draws
 * the body (brush reach and cursor rings) and the parts (area colour or strain, lifting off the skin, folding flat).
 */
import { Color, DataTexture, DoubleSide, LinearFilter, RGBAFormat, ShaderMaterial, SRGBColorSpace, Vector3, Vector4 } from 'three';
import { strainTable } from '../colours/strain-map.ts';

const lighting = /* glsl */ `
  vec3 clay(vec3 base, vec3 n, float open) {
    vec3 key = normalize(vec3(-0.42, 0.62, 0.66));
    vec3 bounce = normalize(vec3(0.55, -0.65, 0.35));
    float lit = clamp(dot(n, key) * 0.72 + 0.28, 0.0, 1.0);
    float soft = lit * lit * 0.62 + lit * 0.38;
    float up = n.y * 0.5 + 0.5;
    vec3 sky = mix(vec3(0.30, 0.25, 0.21), vec3(0.44, 0.45, 0.48), up);
    vec3 warm = vec3(0.20, 0.13, 0.07) * max(0.0, dot(n, bounce));
    float edge = pow(1.0 - clamp(n.z, 0.0, 1.0), 3.5);
    vec3 light = sky * 0.82 + vec3(1.0, 0.955, 0.89) * soft * 0.92 + warm;
    return base * light * open + edge * vec3(0.10, 0.085, 0.07);
  }
  vec3 encode(vec3 c) {
    c = c / (1.0 + max(vec3(0.0), c - 0.8) * 0.55);
    return mix(12.92 * c, 1.055 * pow(max(c, vec3(0.0)), vec3(1.0 / 2.4)) - 0.055, step(0.0031308, c));
  }
`;

const bodyVertex = /* glsl */ `
  attribute float open;
  varying vec3 vNormal;
  varying vec3 vPlace;
  varying float vOpen;
  void main() {
    vNormal = normalMatrix * normal;
    vPlace = position;
    vOpen = open;
    gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  }
`;

const bodyFragment = /* glsl */ `
  uniform vec3 base;
  uniform vec4 rings[2];
  uniform vec3 ringColour;
  uniform vec4 cutPlane;
  uniform float isCutting;
  varying vec3 vNormal;
  varying vec3 vPlace;
  varying float vOpen;
  ${lighting}
  void main() {
    vec3 n = normalize(vNormal) * (gl_FrontFacing ? 1.0 : -1.0);
    vec3 colour = gl_FrontFacing ? base : base * vec3(0.55, 0.35, 0.30);
    if (isCutting > 0.5 && dot(cutPlane.xyz, vPlace) > cutPlane.w) colour = mix(colour, vec3(0.55, 0.12, 0.10), 0.55);
    colour = clay(colour, n, vOpen);
    for (int i = 0; i < 2; i++) {
      if (rings[i].w <= 0.0) continue;
      float d = distance(vPlace, rings[i].xyz);
      float w = max(fwidth(d), 1e-4);
      float line = 1.0 - smoothstep(0.6, 1.8, abs(d - rings[i].w) / w);
      float spot = 1.0 - smoothstep(1.5, 2.8, d / w);
      colour = mix(colour, ringColour, max(line, spot) * (i == 0 ? 1.0 : 0.55));
    }
    gl_FragColor = vec4(encode(colour), 1.0);
  }
`;

const reachVertex = /* glsl */ `
  attribute float reach;
  varying float vReach;
  varying vec3 vNormal;
  void main() {
    vReach = reach;
    vNormal = normalMatrix * normal;
    gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  }
`;

const reachFragment = /* glsl */ `
  uniform vec3 colour;
  uniform float opacity;
  varying float vReach;
  varying vec3 vNormal;
  ${lighting}
  void main() {
    float inside = smoothstep(-0.75, 0.75, vReach / max(fwidth(vReach), 1e-4));
    if (inside <= 0.0) discard;
    vec3 n = normalize(vNormal) * (gl_FrontFacing ? 1.0 : -1.0);
    gl_FragColor = vec4(encode(clay(colour, n, 1.0)), inside * opacity);
  }
`;

const partVertex = /* glsl */ `
  attribute vec3 skin;
  attribute vec3 flatPlace;
  attribute vec3 flatNormal;
  attribute vec4 shade;
  uniform float lift;
  uniform float fold;
  uniform float thick;
  varying vec3 vNormal;
  varying vec3 vPlace;
  varying float vStrain;
  varying float vFaceStrain;
  varying float vWall;
  // shade: strain at the corner, strain of the face, face of the sheet (+1 outer, -1 inner), wall (1) or face (0)
  void main() {
    vec3 standing = mix(skin, position, lift);
    vec3 place = mix(flatPlace, standing, fold);
    vec3 n = normalize(mix(flatNormal, normal, fold));
    // On the skin the sheet has no thickness to show, but its inner face must stay hidden.
    place += n * shade.z * max(0.12, thick * 0.5 * max(lift, 1.0 - fold));
    vNormal = normalMatrix * n;
    vPlace = place;
    vStrain = shade.x;
    vFaceStrain = shade.y;
    vWall = shade.w;
    gl_Position = projectionMatrix * modelViewMatrix * vec4(place, 1.0);
  }
`;

const partFragment = /* glsl */ `
  uniform vec3 base;
  uniform sampler2D table;
  uniform float byStrain;
  uniform float strainEnd;
  uniform vec2 band;
  uniform float isBanded;
  uniform float glow;
  uniform float isStriped;
  uniform vec4 rings[2];
  uniform vec3 ringColour;
  varying vec3 vNormal;
  varying vec3 vPlace;
  varying float vStrain;
  varying float vFaceStrain;
  varying float vWall;
  ${lighting}
  vec3 linear(vec3 c) { return mix(c / 12.92, pow((c + 0.055) / 1.055, vec3(2.4)), step(0.04045, c)); }
  void main() {
    vec3 n = normalize(vNormal) * (gl_FrontFacing ? 1.0 : -1.0);
    vec3 strain = texture2D(table, vec2(clamp(vStrain / strainEnd, -1.0, 1.0) * 0.498 + 0.5, 0.5)).rgb;
    vec3 colour = mix(base, linear(strain), byStrain);
    if (isStriped > 0.5 && byStrain < 0.5 && fract((vPlace.x + vPlace.y + vPlace.z) / 9.0) < 0.4) colour *= 0.72;
    if (isBanded > 0.5 && vWall < 0.5) {
      bool isIn = vFaceStrain >= band.x && vFaceStrain <= band.y;
      colour = isIn ? mix(colour, vec3(0.02), 0.55) : mix(colour, vec3(0.75), 0.45);
    }
    if (vWall > 0.5) colour *= 0.62;
    colour = clay(colour, n, 1.0);
    colour = mix(colour, vec3(1.0, 0.93, 0.72), glow * 0.28);
    for (int i = 0; i < 2; i++) {
      if (rings[i].w <= 0.0) continue;
      float d = distance(vPlace, rings[i].xyz);
      float w = max(fwidth(d), 1e-4);
      float line = 1.0 - smoothstep(0.6, 1.8, abs(d - rings[i].w) / w);
      float spot = 1.0 - smoothstep(1.5, 2.8, d / w);
      colour = mix(colour, ringColour, max(line, spot) * (i == 0 ? 1.0 : 0.55));
    }
    gl_FragColor = vec4(encode(colour), 1.0);
  }
`;

/** One strain table for all parts. */
export function strainTexture(): DataTexture {
  const texture = new DataTexture(strainTable(256), 256, 1, RGBAFormat);
  texture.magFilter = LinearFilter;
  texture.minFilter = LinearFilter;
  texture.needsUpdate = true;
  return texture;
}

/** Rings shared by body and parts: place and radius of the brush and of its mirror image; radius 0 hides one. */
export interface Rings {
  readonly value: Vector4[];
}

export const makeRings = (): Rings => ({ value: [new Vector4(), new Vector4()] });

const linearColour = (hex: string): Color => new Color().setStyle(hex, SRGBColorSpace);

export function bodyMaterial(rings: Rings): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: bodyVertex,
    fragmentShader: bodyFragment,
    side: DoubleSide,
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
    uniforms: {
      base: { value: linearColour('#cfb9a4') },
      rings,
      ringColour: { value: linearColour('#1d1813') },
      cutPlane: { value: new Vector4() },
      isCutting: { value: 0 },
    },
  });
}

/** What a stroke reaches, laid over skin and parts while it is drawn. */
export function reachMaterial(): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: reachVertex,
    fragmentShader: reachFragment,
    transparent: true,
    depthWrite: false,
    polygonOffset: true,
    polygonOffsetFactor: -3,
    polygonOffsetUnits: -6,
    uniforms: { colour: { value: linearColour('#56b4e9') }, opacity: { value: 0.8 } },
  });
}

export function partMaterial(rings: Rings, table: DataTexture, colour: string, isStriped: boolean): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: partVertex,
    fragmentShader: partFragment,
    side: DoubleSide,
    uniforms: {
      base: { value: linearColour(colour) },
      table: { value: table },
      byStrain: { value: 0 },
      strainEnd: { value: 0.1 },
      band: { value: [0, 0] },
      isBanded: { value: 0 },
      glow: { value: 0 },
      isStriped: { value: isStriped ? 1 : 0 },
      lift: { value: 0 },
      fold: { value: 1 },
      thick: { value: 6 },
      rings,
      ringColour: { value: linearColour('#1d1813') },
    },
  });
}

export function setColour(material: ShaderMaterial, name: 'base' | 'colour', hex: string): void {
  const { value } = material.uniforms[name] as { value: Color };
  value.copy(linearColour(hex));
}

export const setVector = (target: Vector4, at: readonly number[], w: number): void => void target.set(at[0], at[1], at[2], w);
export const vector3 = (at: readonly number[]): Vector3 => new Vector3(at[0], at[1], at[2]);
