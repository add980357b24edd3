// Checks a first-layer pattern file by means that share nothing with the program: a parser from the package registry, the machine's
// profile read anew, and the amount of plastic computed here from line width, layer, filament and flow.
// Usage: node check.mjs FILE PROFILE.toml WIDTH_MM FILAMENT_MM FLOW
import { readFileSync } from 'node:fs';
import parser from 'gcode-parser';

const [file, profileFile, ...numbers] = process.argv.slice(2);
const [width, filament, flow] = numbers.map(Number);
if (![width, filament, flow].every(Number.isFinite)) throw new Error('usage: node check.mjs FILE PROFILE.toml WIDTH_MM FILAMENT_MM FLOW');

const profile = readFileSync(profileFile, 'utf8');
const value = (key) => JSON.parse((profile.match(new RegExp(`^${key} *= *([^#\\n]+)`, 'm')) ?? [, 'null'])[1]);
const [minX, minY, maxX, maxY] = value('printable_mm');
const [originX, originY] = value('controller_origin_mm');
const clips = value('clips_mm') ?? [];
const clipHeight = value('clip_height_mm') ?? 0;
const layer = value('height_mm');
const caps = { 104: value('nozzle_cap_celsius'), 109: value('nozzle_cap_celsius'), 140: value('bed_cap_celsius'), 190: value('bed_cap_celsius') };
if (![minX, originX, layer, caps[104], caps[140]].every(Number.isFinite)) throw new Error(`${profileFile}: not read as a profile`);

const faults = [];
const text = readFileSync(file, 'utf8');
if (!/^[\n -~]+$/.test(text)) faults.push('something other than printable ASCII lines');
const at = { X: NaN, Y: NaN, Z: NaN, E: 0 };
const heat = { 104: 0, 140: 0 };
let waited = 0, laid = 0, wanted = 0, laidLines = 0, homed = false, mesh = false;

/** Whether a way meets a rectangle: by clipping its parameter interval on both axes. */
function meets(from, to, [left, front, right, back], margin) {
  let [start, end] = [0, 1];
  for (const [a, b, low, high] of [[from.X, to.X, left - margin, right + margin], [from.Y, to.Y, front - margin, back + margin]]) {
    if (a === b) {
      if (a < low || a > high) return false;
      continue;
    }
    const [one, other] = [(low - a) / (b - a), (high - a) / (b - a)];
    start = Math.max(start, Math.min(one, other));
    end = Math.min(end, Math.max(one, other));
  }
  return start <= end;
}

text.split('\n').forEach((line, index) => {
  const fault = (what) => faults.push(`line ${index + 1}, "${line}": ${what}`);
  const { words } = parser.parseLine(line);
  if (line === '' || line.startsWith(';')) {
    if (words.length) fault('a remark that says something to the machine');
    return;
  }
  const again = words.map(([letter, number]) => letter + number).join(' ');
  const plain = line.split(' ').map((word) => word[0] + Number(word.slice(1))).join(' ');
  if (!words.length || again !== plain || !words.every(([letter, number]) => /^[A-Z]$/.test(letter) && Number.isFinite(number))) return fault('no sound line');
  const [[head, code], ...rest] = words;
  const of = Object.fromEntries(rest);
  switch (`${head}${code}`) {
    case 'G90': case 'M84': break;
    case 'G28': homed = true; Object.assign(at, { X: NaN, Y: NaN, Z: NaN }); break;
    case 'M420': mesh = of.S === 1; break;
    case 'M104': case 'M109': case 'M140': case 'M190': {
      if (!(of.S >= 0 && of.S <= caps[code])) fault(`a temperature above the cap of ${caps[code]}`);
      heat[code < 110 ? 104 : 140] = of.S;
      waited = code === 109 ? of.S : waited;
      break;
    }
    case 'G92': if (Object.keys(of).join() !== 'E') fault('only what was extruded may be set'); at.E = of.E; break;
    case 'G1': {
      const to = { X: of.X ?? at.X, Y: of.Y ?? at.Y, Z: of.Z ?? at.Z, E: of.E ?? at.E };
      if (!homed) fault('a motion before homing');
      if (!(of.F > 0)) fault('no feed');
      const length = Math.hypot(to.X - at.X, to.Y - at.Y);
      const level = of.X !== undefined || of.Y !== undefined;
      if (level && of.Z !== undefined) fault('aslant');
      if (of.E !== undefined) {
        for (const place of [at, to]) {
          const [x, y] = [place.X - originX, place.Y - originY];
          if (!(x >= minX && x <= maxX && y >= minY && y <= maxY)) fault('a line outside the printable area');
        }
        if (!(at.Z >= layer / 2 - 1e-9 && at.Z <= 2 * layer + 1e-9)) fault('a line lower than half the layer or higher than twice');
        if (!(waited >= 170 && heat[104] === waited) || !mesh) fault('a line with the nozzle not hot or the mesh off');
        const needs = (length * width * layer * flow) / ((Math.PI * filament * filament) / 4);
        const pushed = to.E - at.E;
        if (!(length > 0) || Math.abs(pushed - needs) > Math.max(needs * 0.001, 0.0000101)) fault(`${pushed} mm of filament where ${needs} belong`);
        laid += pushed;
        wanted += needs;
        laidLines++;
      } else if (level && !(at.Z > clipHeight)) {
        fault('a way without plastic below the clips');
      }
      if (level && at.Z <= clipHeight && clips.some((clip) => meets({ X: at.X - originX, Y: at.Y - originY }, { X: to.X - originX, Y: to.Y - originY }, clip, 2))) fault('through a clip');
      if (of.Z !== undefined && of.Z < layer / 2 - 1e-9) fault('lower than half the layer');
      Object.assign(at, to);
      break;
    }
    default: fault('a command that a pattern does not need');
  }
});

if (heat[104] !== 0 || heat[140] !== 0) faults.push('the heaters stay on at the end');
if (!(at.Z > clipHeight)) faults.push('the nozzle stays down at the end');
if (!(laidLines > 100) || Math.abs(laid - wanted) > wanted * 0.001) faults.push(`${laid} mm of filament in ${laidLines} lines where ${wanted} mm belong`);
console.log(`${file}: ${laidLines} lines laid, ${laid.toFixed(3)} mm of filament, ${wanted.toFixed(3)} by hand; ${faults.length} faults`);
faults.slice(0, 20).forEach((fault) => console.error(fault));
process.exit(faults.length ? 1 : 0);
