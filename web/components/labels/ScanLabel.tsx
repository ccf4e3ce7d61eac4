import { useEffect, useRef, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';
import { lotOfAddress } from './labelAddress.ts';
import { findLabelReader, type LabelReader } from './labelReader.ts';
import '../../styles/label.css';

/** Opens a lot by the label on its bin. */
export function ScanLabel() {
  const [reader, setReader] = useState<LabelReader | null>(null);
  const [isOpen, setIsOpen] = useState(false);
  useEffect(() => {
    void findLabelReader().then((found) => setReader(found ?? null));
  }, []);
  if (reader === null)
    return (
      <p class="field-hint">
        To open a lot by its label, point the camera app of your phone at the code.
      </p>
    );
  if (isOpen) return <Scanner reader={reader} onLeave={() => setIsOpen(false)} />;
  return (
    <p>
      <button type="button" class="button quiet" onClick={() => setIsOpen(true)}>
        Scan a label
      </button>
    </p>
  );
}

const everyMs = 250;

function Scanner({ reader, onLeave }: { reader: LabelReader; onLeave: () => void }) {
  const video = useRef<HTMLVideoElement>(null);
  const { route } = useLocation();
  const [said, setSaid] = useState('Hold the label before the camera.');
  useEffect(() => {
    let stream: MediaStream | undefined;
    let isOver = false;
    const look = async (picture: HTMLVideoElement) => {
      while (!isOver) {
        const [text] = await reader.read(picture).catch(() => []);
        const lot = text === undefined ? undefined : lotOfAddress(text);
        if (lot !== undefined && !isOver) return route(`/yeast/${lot}`);
        if (text !== undefined) setSaid('This code is not the label of a lot.');
        await new Promise((resolve) => setTimeout(resolve, everyMs));
      }
    };
    const start = async () => {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
      const picture = video.current;
      if (isOver || picture === null) return stop();
      picture.srcObject = stream;
      await picture.play();
      await look(picture);
    };
    const stop = () => {
      isOver = true;
      for (const track of stream?.getTracks() ?? []) track.stop();
    };
    start().catch(() => setSaid('The camera cannot be used: use the camera app of your phone.'));
    return stop;
  }, [reader]);
  return (
    <section class="opened" aria-label="Scan a label">
      <p role="status">{said}</p>
      <video ref={video} class="scan-picture" muted playsInline />
      <p>
        <button type="button" class="link" onClick={onLeave}>
          Stop
        </button>
      </p>
    </section>
  );
}
