// What the page's scripts find in the browser, and TypeScript's own list lacks.

interface Window {
  /** The worker that early.js started before the engine's module was there. */
  doughwaterWorker?: Worker | SharedWorker;
  trustedTypes?: typeof trustedTypes;
  /** The theme's reading of what it keeps. */
  __md_get?(name: string): {index: number} | null;
}

/** https://wicg.github.io/nav-speculation/prerendering.html */
interface Document {
  prerendering?: boolean;
}

/** https://w3c.github.io/trusted-types/dist/spec/ */
declare const trustedTypes: {
  createPolicy(name: string, rules: Record<string, (text: string) => string | null>): Record<string, (text: string) => string>;
};
