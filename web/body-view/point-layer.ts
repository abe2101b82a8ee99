/*
 * Points that can be taken hold of, and marks of places: round, always the same size on the screen.
 */
import { BufferAttribute, BufferGeometry, Points, ShaderMaterial } from 'three';
import type { Vec3 } from '../../src/base/arrays.ts';
import { rgbOf } from '../colours/area-colours.ts';

export interface PointShow {
  readonly at: Vec3;
  readonly colour: string;
  readonly sizePx: number;
}

export interface PointLayer {
  readonly object: Points;
  readonly set: (points: readonly PointShow[]) => void;
  readonly setPixelRatio: (ratio: number) => void;
}

export function createPointLayer(order: number, isThrough = false): PointLayer {
  const material = new ShaderMaterial({
    transparent: true,
    depthTest: !isThrough,
    depthWrite: false,
    uniforms: { ratio: { value: 1 } },
    vertexShader: /* glsl */ `
      attribute vec3 tint;
      attribute float px;
      uniform float ratio;
      varying vec3 vTint;
      varying float vPx;
      void main() {
        vTint = tint;
        vPx = px * ratio;
        vec4 place = modelViewMatrix * vec4(position, 1.0);
        place.z += 3.0;
        gl_Position = projectionMatrix * place;
        gl_PointSize = vPx;
      }
    `,
    fragmentShader: /* glsl */ `
      varying vec3 vTint;
      varying float vPx;
      void main() {
        float d = length(gl_PointCoord - 0.5) * vPx;
        float half_ = 0.5 * vPx;
        float inside = 1.0 - smoothstep(half_ - 1.2, half_ - 0.2, d);
        float rim = smoothstep(half_ - 3.2, half_ - 2.2, d);
        if (inside <= 0.0) discard;
        gl_FragColor = vec4(mix(vTint, vec3(0.11, 0.09, 0.08), rim), inside);
      }
    `,
  });
  const object = new Points(new BufferGeometry(), material);
  object.frustumCulled = false;
  object.renderOrder = order;
  return {
    object,
    set: (points) => {
      object.geometry.dispose();
      const geometry = new BufferGeometry();
      geometry.setAttribute('position', new BufferAttribute(Float32Array.from(points.flatMap((point) => [...point.at])), 3));
      geometry.setAttribute('tint', new BufferAttribute(Float32Array.from(points.flatMap((point) => [...rgbOf(point.colour)])), 3));
      geometry.setAttribute('px', new BufferAttribute(Float32Array.from(points.map((point) => point.sizePx)), 1));
      object.geometry = geometry;
      object.visible = points.length > 0;
    },
    setPixelRatio: (ratio) => {
      material.uniforms.ratio.value = ratio;
    },
  };
}
