#!/usr/bin/env node
// Keeps one `nearhand rank --json` running and asks it hand by hand through
// pipes: each line written is a hand, each line read its answer, in order. A
// server asks so without a new process, or a list read anew, for every hand.
//
//     NEARHAND=build/nearhand node examples/pipe.js "2468B 246C 33D EEW R Wh" "11B EE 5X"
'use strict';

const {spawn} = require('node:child_process');
const {createInterface} = require('node:readline');

class Ranker {
  constructor(words = []) {
    this.waiting = [];
    this.child = spawn(process.env.NEARHAND || 'nearhand',
                       ['rank', '--json', '--top', '1', '--jobs', '1', ...words],
                       {stdio: ['pipe', 'pipe', 'inherit']});
    createInterface({input: this.child.stdout})
        .on('line', (line) => this.waiting.shift().resolve(JSON.parse(line)));
    this.child.on('error', (error) => this.fail(error));
    this.child.on('close', () => this.fail(new Error('nearhand has ended')));
    this.child.stdin.on('error', (error) => this.fail(error));
  }

  // A hand is one line, and a blank line or a remark would have no answer:
  // the others would then go to the wrong hands.
  rank(hand) {
    const line = hand.replace(/[\t\r\n]/g, ' ').trim();
    if (line === '' || line.startsWith('#'))
      return Promise.reject(new Error('not a hand'));
    return new Promise((resolve, reject) => {
      this.waiting.push({resolve, reject});
      this.child.stdin.write(line + '\n');
    });
  }

  fail(error) {
    for (const {reject} of this.waiting.splice(0))
      reject(error);
  }

  end() {
    this.child.stdin.end();
  }
}

async function main(hands) {
  const ranker = new Ranker();
  try {
    for (const hand of hands) {
      const answer = await ranker.rank(hand);
      if (answer.error !== undefined)
        console.log(`${hand}: ${answer.error}`);
      else
        console.log(`${hand}: ${answer.targets[0].pattern}, ${answer.nearest} away`);
    }
  } finally {
    ranker.end();
  }
}

main(process.argv.slice(2)).catch((error) => {
  console.error(error.message);
  process.exitCode = 1;
});
