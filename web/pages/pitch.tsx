import { Page } from '../components/Page.tsx';

export function Pitch() {
  return <Page title="Pitch" />;
}
