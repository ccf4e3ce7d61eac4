/** Reads QR codes from a picture, where the browser can. */
export type LabelReader = { read: (picture: HTMLVideoElement) => Promise<string[]> };

type Detector = { detect: (source: HTMLVideoElement) => Promise<{ rawValue: string }[]> };
type DetectorClass = {
  new (options: { formats: string[] }): Detector;
  getSupportedFormats: () => Promise<string[]>;
};

// The interface is not in every browser, nor in the types of the page.
const isDetectorClass = (found: unknown): found is DetectorClass =>
  typeof found === 'function' && 'getSupportedFormats' in found;

/** The browser's own reader; undefined where it has none, or may not use the camera. */
export async function findLabelReader(): Promise<LabelReader | undefined> {
  const devices: MediaDevices | undefined = navigator.mediaDevices;
  const found: unknown = Reflect.get(globalThis, 'BarcodeDetector');
  if (devices === undefined || !isDetectorClass(found)) return undefined;
  const formats = await found.getSupportedFormats().catch((): string[] => []);
  if (!formats.includes('qr_code')) return undefined;
  const detector = new found({ formats: ['qr_code'] });
  return {
    read: async (picture) => (await detector.detect(picture)).map(({ rawValue }) => rawValue),
  };
}
