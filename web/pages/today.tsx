import { Page } from '../components/Page.tsx';

export function Today() {
  return <Page title="Today" />;
}
