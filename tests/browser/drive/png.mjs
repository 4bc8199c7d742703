// A PNG, as screenshots are, to its pixels (ISO/IEC 15948; 8 bits a channel, not interlaced).

import { inflateSync } from 'node:zlib';

const channels = { 0: 1, 2: 3, 4: 2, 6: 4 };

// -> { width, height, at(x, y) -> [red, green, blue], file }
export function decodePng(file) {
  const signature = '89504e470d0a1a0a';
  if (file.subarray(0, 8).toString('hex') !== signature) throw new Error('not a PNG');
  let header;
  const data = [];
  for (let at = 8; at < file.length;) {
    const length = file.readUInt32BE(at);
    const type = file.toString('latin1', at + 4, at + 8);
    const body = file.subarray(at + 8, at + 8 + length);
    if (type === 'IHDR') {
      header = {
        width: body.readUInt32BE(0),
        height: body.readUInt32BE(4),
        depth: body[8],
        colour: body[9],
        interlace: body[12],
      };
    }
    if (type === 'IDAT') data.push(body);
    at += 12 + length;
  }
  const { width, height, depth, colour, interlace } = header;
  const n = channels[colour];
  if (depth !== 8 || interlace !== 0 || !n) throw new Error(`a PNG of depth ${depth}, colour type ${colour}`);
  const packed = inflateSync(Buffer.concat(data));
  const row = width * n;
  const pixels = Buffer.alloc(row * height);
  for (let y = 0; y < height; ++y) {
    const filter = packed[y * (row + 1)];
    const from = y * (row + 1) + 1;
    const to = y * row;
    for (let x = 0; x < row; ++x) {
      const left = x >= n ? pixels[to + x - n] : 0;
      const up = y > 0 ? pixels[to + x - row] : 0;
      const corner = x >= n && y > 0 ? pixels[to + x - row - n] : 0;
      let guess = 0;
      if (filter === 1) guess = left;
      else if (filter === 2) guess = up;
      else if (filter === 3) guess = (left + up) >> 1;
      else if (filter === 4) {
        const p = left + up - corner;
        const a = Math.abs(p - left),
          b = Math.abs(p - up),
          c = Math.abs(p - corner);
        guess = a <= b && a <= c ? left : b <= c ? up : corner;
      }
      pixels[to + x] = packed[from + x] + guess;
    }
  }
  const at = (x, y) => {
    const i = (Math.round(y) * width + Math.round(x)) * n;
    return n >= 3 ? [pixels[i], pixels[i + 1], pixels[i + 2]] : [pixels[i], pixels[i], pixels[i]];
  };
  return { width, height, at, file };
}

// How many pixels have each colour: a map from "#rrggbb", the most frequent first.
export function coloursOf(picture) {
  const counts = new Map();
  for (let y = 0; y < picture.height; ++y) {
    for (let x = 0; x < picture.width; ++x) {
      const key = picture.at(x, y).reduce((sum, part) => sum * 256 + part, 0);
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
  }
  return new Map(
    [...counts]
      .sort((a, b) => b[1] - a[1])
      .map(([key, count]) => [`#${key.toString(16).padStart(6, '0')}`.toUpperCase(), count]),
  );
}
