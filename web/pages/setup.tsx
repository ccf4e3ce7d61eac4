import { Page } from '../components/Page.tsx';

export function SetupPage() {
  return <Page title="SetupPage" />;
}
