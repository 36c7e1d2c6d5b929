// Starts the page: the worker, the table, the views, the list.
import { find, say } from './elements.mjs';
import { Closest } from './closest.mjs';
import { Desk } from './desk.mjs';
import { Lists } from './lists.mjs';
import { Passes } from './passes.mjs';
import { Player } from './player.mjs';
import { Practice } from './practice.mjs';
import { Side } from './side.mjs';
import { Table } from './table.mjs';
import { Turn } from './turn.mjs';
import { Views } from './views.mjs';
import { addDrawings } from './tiles.mjs';
import { forgetAll } from './memory.mjs';
import { keepOffline } from './installed.mjs';

const PATIENCE = 500; // ms of work before the page says so

/** What went wrong unforeseen is said, not hidden. @param {unknown} error */
function showTrouble(error) {
    const trouble = find('trouble');
    trouble.hidden = false;
    trouble.textContent = `This page cannot go on: ${error instanceof Error ? error.message : error}. Load it again.`;
}

/** Says that work takes time, with a way to stop it. @param {Desk} desk */
function watchWork(desk) {
    const bar = find('work');
    let timer = 0;
    desk.addEventListener('busy', () => {
        clearTimeout(timer);
        timer = setTimeout(() => {
            bar.hidden = false;
            say('Working…');
        }, PATIENCE);
    });
    desk.addEventListener('idle', () => {
        clearTimeout(timer);
        bar.hidden = true;
    });
    find('work-stop').addEventListener('click', () => desk.stop());
}

async function begin() {
    const desk = new Desk();
    const table = new Table();
    watchWork(desk);
    const lists = new Lists(desk, table);
    const views = new Views({
        hand: [new Passes(desk, table), new Closest(desk, table)],
        play: [new Turn(desk, table), new Player(desk, table)],
        practice: [new Practice(desk, table)],
        lists: [lists],
    });
    find('hand-side').append(new Side('hand', desk, table, false).element);
    find('play-side').append(new Side('play', desk, table, true).element);
    find('forget').addEventListener('click', () => {
        table.clear();
        forgetAll();
        say('Hand and list are forgotten.');
    });
    addDrawings(await (await fetch('tiles.svg')).text());
    await lists.start();
    table.addEventListener('change', () => views.refresh());
    views.start();
    keepOffline();
}

addEventListener('unhandledrejection', ({ reason }) => showTrouble(reason));
addEventListener('error', ({ error }) => showTrouble(error));
begin();
