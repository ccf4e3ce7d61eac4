import { Page } from '../components/Page.tsx';

export function Yeast() {
  return <Page title="Yeast" />;
}
