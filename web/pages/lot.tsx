import { Page } from '../components/Page.tsx';

export function Lot() {
  return <Page title="Lot" />;
}
