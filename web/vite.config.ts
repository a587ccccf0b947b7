import { defineConfig } from "vite";

/** One bundle: `main` on every page; the figure (three.js) comes as its own chunk when a page shows one. */
export default defineConfig({
  root: "src",
  base: "/built/",
  build: {
    outDir: "../../src/lengthwise/web/built",
    emptyOutDir: true,
    manifest: "manifest.json",
    modulePreload: { polyfill: false },
    target: "es2022",
    assetsInlineLimit: 0,
    rollupOptions: { input: ["src/main.ts", "src/log_worker.ts"] },
  },
});
