// What a service worker finds, by https://w3c.github.io/ServiceWorker/; its scripts are no modules, so
// TypeScript does not know whose global scope they have.

declare const registration: ServiceWorkerRegistration;
declare const clients: Clients;
declare function skipWaiting(): Promise<void>;
declare function addEventListener(type: 'fetch', listener: (event: FetchEvent) => void): void;
declare function addEventListener(type: 'message', listener: (event: ExtendableMessageEvent) => void): void;
declare function addEventListener(type: 'install' | 'activate', listener: (event: ExtendableEvent) => void): void;

// The build writes these above sw.js.
declare const VERSION: string;
declare const NOWHERE: string;
declare const FILES: Record<string, string>;
