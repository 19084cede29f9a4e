// @ts-check
// Wood and ink for the graphics card. The wood is a solid texture: growth rings about the pith, where the server put
// each part in its tree; the constants here are only how a ring, a pore and a ray are painted.

const NOISE = /* glsl */ `
uniform highp sampler3D speckle;   // random bytes, repeating
float noise(vec3 p) {
  vec3 f = fract(p);
  // The card blends eight neighbors in one look; the eased place makes the blend smooth.
  return textureLod(speckle, (floor(p) + f * f * (3.0 - 2.0 * f) + 0.5) / SPECKLES, 0.0).r;
}
`;

const WOOD = /* glsl */ `
uniform vec4 logX, logY, logZ;
uniform vec4 ring;   // width mm, contrast, growth (0 ring, 1 diffuse, 2 soft, 3 even), stripe
uniform vec4 ray;    // pores, fleck, length of a fleck mm, thickness of a ply mm

// Details smaller than a pixel fade into their mean.
float kept(float perPixel) { return 1.0 - smoothstep(0.3, 0.95, perPixel); }

// The color of wood at a point of the part, on a face with this normal (both in the part frame).
vec3 wood(vec3 p, vec3 n, vec3 base, float coated) {
  float glue = 0.0;
  if (ray.w > 0.0) {
    // Plies cross: every other one lies across. Each is peeled round the log, so its rings lie flat.
    float layer = floor(clamp(p.z / ray.w, 0.0, 200.0));
    float seam = abs(fract(p.z / ray.w) - 0.5) * 2.0;
    glue = smoothstep(0.8, 1.0, seam) * kept(fwidth(p.z / ray.w) * 2.0) * (1.0 - abs(n.z));
    if (mod(layer, 2.0) > 0.5) { p.xy = p.yx; n.xy = n.yx; }
    p.z = p.z * 0.55 + layer * 17.0;
    p.x += layer * 41.0;
  }
  vec3 l = vec3(dot(logX.xyz, p) + logX.w, dot(logY.xyz, p) + logY.w, dot(logZ.xyz, p) + logZ.w);
  float bend = noise(vec3(l.x * 0.0024, l.yz * 0.010)) - 0.5;
  float wave = noise(vec3(l.x * 0.011 + 9.0, l.yz * 0.034)) - 0.5;
  // A tree tapers, and no pith is straight: this is what draws the pointed arches on flat-sawn faces.
  float radius = length(l.yz);
  float grown = radius + l.x * 0.02 + bend * 12.0 + wave * 2.4;
  float year = grown / ring.x;
  year += 0.8 * noise(vec3(year * 0.37, 3.0, 7.0));
  float fiber = noise(vec3(l.x * 0.035, l.yz * 1.3)) - 0.5;
  float hair = kept(fwidth(l.y * 5.0) + fwidth(l.z * 5.0));
  float hairs = hair > 0.02 ? noise(vec3(l.x * 0.11, l.yz * 5.0)) : 0.5;
  // Fibers fray the rings along the grain.
  year += 0.10 * fiber + 0.05 * (hairs - 0.5) * hair;
  float within = fract(year);
  float fine = kept(fwidth(year) * 1.6);
  float late = 0.35;
  float open = 0.45;
  if (ring.z < 0.5) {
    late = smoothstep(0.0, 0.05, within) * (1.0 - smoothstep(0.1, 0.5, within));
    open = late;
    late *= mix(1.0, 0.45 + 1.1 * hairs, 0.7 * hair);
  } else if (ring.z < 1.5) {
    late = smoothstep(0.35, 0.97, within) * (1.0 - smoothstep(0.97, 1.0, within));
  } else if (ring.z < 2.5) {
    late = pow(within, 2.4) * (1.0 - smoothstep(0.96, 1.0, within));
  }
  late = mix(0.3, late, fine) * (ring.z > 2.5 ? 0.0 : 1.0);
  float band = noise(vec3(grown * 0.14, l.x * 0.0025, 5.0)) - 0.5;
  float dark = ring.y * late + ring.w * band * 0.9 + 0.09 * fiber + 0.03 * bend;

  // Pores: long fine streaks on the sides, dots on the ends; in a ring-porous wood in the early wood most.
  float pores = smoothstep(0.60, 0.86, hairs) * mix(0.5, 1.0, open);
  dark += ray.x * mix(0.16, pores, hair) * 0.62;

  // Rays: thin upright sheets from the pith outward. Seen flat they are flecks, seen on edge fine lines.
  if (ray.y > 0.0) {
    float arc = atan(l.y, l.z) * radius;
    vec3 at = vec3(arc * 0.8, l.x / (0.55 * ray.z), radius / ray.z + 0.1 * wave);
    float sheet = noise(at + vec3(0.0, fiber * 0.6, 0.0));
    sheet = smoothstep(0.56, 0.76, sheet);
    vec3 across = normalize(vec3(0.0, l.z, -l.y));
    vec3 turned = vec3(0.0, dot(logY.xyz, n), dot(logZ.xyz, n));
    float flat_on = abs(dot(across, turned));
    float clear = kept(fwidth(arc) * 0.9 * 0.6);
    dark -= ray.y * mix(0.3, sheet, clear) * mix(-0.10, 0.34, smoothstep(0.55, 0.95, flat_on));
  }
  // End grain drinks finish and scatters light.
  float end = smoothstep(0.5, 1.0, abs(n.x));
  dark += end * mix(0.10, 0.20, coated) + glue * 0.35;
  dark = clamp(dark, -0.35, 0.85);
  return base * pow(vec3(1.0 - dark), vec3(0.82, 1.12, 1.34));
}
`;

/** Vertices of the faces. */
export const FACE_VERTEX = /* glsl */ `
attribute float coat;
varying vec3 vPart, vPartNormal, vWorld, vNormal;
varying float vCoat;
void main() {
  vPart = position;
  vPartNormal = normal;
  vCoat = coat;
  vWorld = (modelMatrix * vec4(position, 1.0)).xyz;
  vNormal = mat3(modelMatrix) * normal;
  gl_Position = projectionMatrix * viewMatrix * vec4(vWorld, 1.0);
}
`;

/** Color of the faces; with CAP the inside of what is cut through, painted where the plane cuts it. */
export const FACE_FRAGMENT = /* glsl */ `
precision highp float;
uniform vec3 bare, outside, inside;
uniform vec2 shine;
uniform float finished, opacity, marked;
uniform vec4 plane;    // what lies beyond is cut away
uniform vec3 toward, lamp, accent;
uniform mat4 back;     // from the world to the part
varying vec3 vPart, vPartNormal, vWorld, vNormal;
varying float vCoat;
${NOISE}${WOOD}
void main() {
  vec3 p = vPart, n = normalize(vPartNormal), world = vWorld, facing = normalize(vNormal);
  float coat = vCoat;
#ifdef CUT
  if (dot(plane.xyz, vWorld) > plane.w) discard;
#endif
#ifdef CAP
  // The eye's ray meets the cut before this far side of the wood: paint the wood there.
  world += toward * ((plane.w - dot(plane.xyz, vWorld)) / max(dot(plane.xyz, toward), 1e-4));
  p = (back * vec4(world, 1.0)).xyz;
  facing = plane.xyz;
  n = mat3(back) * facing;
  coat = 0.0;
#endif
  float coated = finished * step(0.5, coat);
  vec3 base = mix(bare, coat > 1.5 ? inside : outside, coated);
  vec3 color = wood(p, n, base, coated);
  vec3 light = normalize(lamp - world);
  float lit = max(dot(facing, light), 0.0);
  float sky = 0.5 + 0.5 * facing.z;
  vec3 shown = color * (0.66 + 0.16 * sky + 0.52 * lit);
  float gloss = coated * (coat > 1.5 ? shine.y : shine.x);
  shown += gloss * 0.22 * pow(max(dot(facing, normalize(light + toward)), 0.0), 18.0);
#ifdef CAP
  shown = color * 1.06;
#endif
  // Dark woods are lifted so that their figure is seen; light ones stay.
  shown *= 1.22 / (1.0 + 0.30 * shown);
  shown = mix(shown, accent, 0.2 * marked);
  gl_FragColor = vec4(shown, opacity);
  #include <colorspace_fragment>
  gl_FragColor.rgb *= opacity;
}
`;

/** Vertices of a line: a strip as wide as asked on the screen, a hair nearer to the eye than the faces. */
export const LINE_VERTEX = /* glsl */ `
attribute vec3 from, to;
uniform vec2 screen;   // pixels
uniform float wide, lift;
varying vec3 vWorld;
varying float vAlong;
void main() {
  vec4 a = modelMatrix * vec4(from, 1.0), b = modelMatrix * vec4(to, 1.0);
  vWorld = mix(a.xyz, b.xyz, position.x);
  vec4 ca = projectionMatrix * viewMatrix * a, cb = projectionMatrix * viewMatrix * b;
  vec2 way = (cb.xy - ca.xy) * screen;
  float reach = length(way);
  way = reach > 1e-4 ? way / reach : vec2(1.0, 0.0);
  vAlong = reach * 0.5 * position.x;
  vec4 at = mix(ca, cb, position.x);
  vec2 aside = vec2(-way.y, way.x) * position.y + way * (position.x * 2.0 - 1.0) * 0.5;
  at.xy += aside * wide / screen;
  at.z -= lift;
  gl_Position = at;
}
`;

/** Color of a line; hidden ones are dashed. */
export const LINE_FRAGMENT = /* glsl */ `
precision highp float;
uniform vec3 ink;
uniform float opacity, dash;
uniform vec4 plane;
varying vec3 vWorld;
varying float vAlong;
void main() {
  if (dot(plane.xyz, vWorld) > plane.w + 1e-3) discard;
  if (dash > 0.0 && mod(vAlong, dash * 1.6) > dash) discard;
  gl_FragColor = vec4(ink, opacity);
  #include <colorspace_fragment>
  gl_FragColor.rgb *= opacity;
}
`;
