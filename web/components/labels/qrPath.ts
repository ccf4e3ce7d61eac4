import { correction, generate } from 'lean-qr';

type QrDrawing = { size: number; path: string };

/**
 * The modules of a QR code as one outline of squares, without its quiet zone of 4 modules.
 * A quarter may be scuffed (level Q): labels live in wet cellars.
 */
export function qrDrawing(text: string): QrDrawing {
  const code = generate(text, { minCorrectionLevel: correction.Q });
  const rows: string[] = [];
  for (let y = 0; y < code.size; y += 1)
    for (let x = 0; x < code.size; x += 1) {
      if (!code.get(x, y)) continue;
      const start = x;
      while (code.get(x + 1, y)) x += 1;
      rows.push(`M${start} ${y}h${x + 1 - start}v1H${start}z`);
    }
  return { size: code.size, path: rows.join('') };
}
