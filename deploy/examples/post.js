#!/usr/bin/env node
// Writes speeds and feeds of a list of operations as lines of an NC program.
//
//     SWARF_SERVER=http://127.0.0.1:8080 MACHINE=vmc-40 node post.js operations.txt part.nc
//
// Each operation is recommended, its numbers are rounded down to whole ones as the control
// takes them, and the rounded ones are estimated again. With any hold or refusal there is no
// program at all; warnings stand in it as comments. A person who knows the machine reads it
// before it runs: the limits of machine, tool and work holding come first.
//
// Exit codes: 0 written, 4 refused, 5 no answer, 2 wrong usage. Needs Node.js 18 or later.
'use strict';
const fs = require('fs');

const server = process.env.SWARF_SERVER || 'http://127.0.0.1:8080';
const headers = { Accept: 'application/json' };
if (process.env.SWARF_API_KEY) headers.Authorization = 'Bearer ' + process.env.SWARF_API_KEY;

class Refused extends Error {}

// Asks for one computation by GET and returns the answer.
async function ask(question, members) {
  const address = `${server}/v1/${question}?${new URLSearchParams(members)}`;
  const answer = await fetch(address, { headers, signal: AbortSignal.timeout(20000) });
  if (answer.status === 429 || answer.status >= 500) throw new Error(`the server answers ${answer.status}`);
  const body = await answer.json();
  if (!answer.ok) throw new Refused(body.faults.map((f) => `${f.field || ''}: ${f.message}`).join('; '));
  return body;
}

// Reads the members of each operation.
function operations(name) {
  return fs.readFileSync(name, 'utf8').split('\n')
    .filter((line) => line.trim() && !line.startsWith('#'))
    .map((line) => Object.fromEntries(line.trim().split(/\s+/).map((pair) => [pair.slice(0, pair.indexOf('=')), pair.slice(pair.indexOf('=') + 1)])));
}

function told(answer, ...severities) {
  return answer.findings.filter((f) => severities.includes(f.severity)).map((f) => `${f.code}: ${f.message}`).join('; ');
}

// Recommends, rounds down, and estimates what was rounded.
async function settle(given) {
  const first = await ask('recommendations', given);
  if (!first.parameters) throw new Refused(told(first, 'refusal'));
  const { cutting_speed, feed_per_tooth, feed_per_revolution, ...members } = given;
  members.spindle_speed = Math.floor(first.parameters.spindle_speed);
  members.feed_rate = Math.floor(first.parameters.feed_rate);
  const rounded = await ask('estimates', members);
  if (first.data_revision !== rounded.data_revision) throw new Refused('the data changed between two answers; ask again');
  if (first.verdict !== 'yes' || rounded.verdict !== 'yes') throw new Refused(told(first, 'refusal', 'hold') || told(rounded, 'refusal', 'hold'));
  return { members, answer: rounded };
}

// A comment holds plain characters and no brackets of its own.
function comment(text) {
  return '(' + text.replace(/\(/g, '[').replace(/\)/g, ']').replace(/[^ -~]/g, '?') + ')';
}

async function main([list, program]) {
  if (!program) {
    console.error('usage: node post.js operations.txt part.nc');
    return 2;
  }
  fs.rmSync(program, { force: true }); // that of last time is not the one that was asked for
  const lines = [];
  const faults = [];
  for (const operation of operations(list)) {
    const given = { units: 'metric', machine: process.env.MACHINE || 'vmc-40', ...operation };
    try {
      const { members, answer } = await settle(given);
      lines.push(comment(`${members.ref} ${members.operation}, data revision ${answer.data_revision}`));
      for (const f of answer.findings) if (f.severity === 'warning') lines.push(comment('WARNING ' + f.code));
      lines.push(`G94 G97 S${members.spindle_speed} F${members.feed_rate}`);
    } catch (fault) {
      if (!(fault instanceof Refused)) {
        console.error(`no answer: ${fault.message}`);
        return 5;
      }
      faults.push(`${given.ref}: ${fault.message}`);
    }
  }
  if (faults.length) {
    console.error(faults.join('\n'));
    return 4;
  }
  fs.writeFileSync(program + '.part', lines.join('\n') + '\n', 'ascii');
  fs.renameSync(program + '.part', program);
  return 0;
}

main(process.argv.slice(2)).then((code) => { process.exitCode = code; });
