// The types that stand in the comments of the modules hold, read strictly.
import { check } from './harness.mjs';
import { execFileSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import path from 'node:path';

const OPTIONS = {
    allowJs: true, checkJs: true, noEmit: true, strict: true, target: 'es2023', module: 'esnext',
    moduleResolution: 'bundler', lib: ['es2023', 'dom', 'dom.iterable'], types: [],
};
// What nearhand.mjs takes of Node, which has types of its own elsewhere.
const NODE = "declare module 'node:fs/promises' { export function readFile(file: URL): Promise<Uint8Array<ArrayBuffer>>; }\n";

export async function test({ tools }) {
    const project = path.join(tools, 'tsconfig.json');
    await writeFile(path.join(tools, 'node.d.ts'), NODE);
    await writeFile(project, JSON.stringify({ compilerOptions: OPTIONS, include: ['page/*.mjs', 'page/package/*.mjs', 'node.d.ts'] }));
    try {
        execFileSync(path.join(tools, 'node_modules/.bin/tsc'), ['-p', project], { timeout: 120000 });
        check(true, 'types');
    } catch (error) {
        check(false, `types: ${error.stdout ?? error}`);
    }
}
