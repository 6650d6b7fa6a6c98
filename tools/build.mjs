// `npm run build`: packages where missing, rooms and page afresh.
import { build, install, main } from './steps.mjs';

await main(() => {
  install();
  build({ force: true });
});
