// Opens pages in Chromium and prints one JSON line for each check:
// {"file", "check", "ok", "message"}. What a check holds is beside it.
//
// node check.mjs CHROMIUM FOLDER
//
// Every .html file of the folder is checked; with SHOTS=DIR screenshots and
// prints are written there.
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import { chromium } from 'playwright-core';

const [executablePath, folder] = process.argv.slice(2);
const profile = mkdtempSync(join(tmpdir(), 'backpitch-chromium-'));
const context = await chromium.launchPersistentContext(profile, {
  executablePath, headless: true, viewport: { width: 1280, height: 900 },
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
    '--disable-component-update', '--disable-sync', '--disable-dev-shm-usage'],
});

function say(file, check, faults) {
  console.log(JSON.stringify({ file, check, ok: faults.length === 0, message: faults.slice(0, 20).join('\n') }));
}

// open loads a page and keeps what it says and asks for.
async function open(url, width, scheme) {
  const page = await context.newPage();
  const heard = [];
  page.on('console', (m) => heard.push(`console ${m.type()}: ${m.text()}`));
  page.on('pageerror', (e) => heard.push(`error: ${e.message}`));
  page.on('request', (r) => { if (r.url() !== url) heard.push(`request: ${r.url().slice(0, 100)}`); });
  await page.setViewportSize({ width, height: 900 });
  await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
  const began = Date.now();
  await page.goto(url, { waitUntil: 'load' });
  return { page, heard, took: Date.now() - began };
}

// Every link leads somewhere on the page; every mark on a drawing leads to an
// item that leads back to that drawing, and the other way round.
function links() {
  const faults = [];
  const ids = new Set();
  for (const e of document.querySelectorAll('[id]')) {
    if (ids.has(e.id)) faults.push(`two elements have the id ${e.id}`);
    ids.add(e.id);
  }
  for (const a of document.querySelectorAll('a')) {
    const href = a.getAttribute('href') ?? '';
    if (!href.startsWith('#') || !ids.has(href.slice(1))) faults.push(`link to ${href} leads nowhere`);
  }
  const target = (a) => document.getElementById(a.getAttribute('href').slice(1));
  for (const a of document.querySelectorAll('svg a')) {
    const item = target(a);
    if (!item?.matches('.item')) { faults.push(`a mark leads to ${a.getAttribute('href')}, which is no item`); continue; }
    const back = [...item.querySelectorAll('dd a')].some((b) => target(b)?.closest('svg') === a.closest('svg'));
    const many = item.querySelectorAll('dd bdi').length > 1; // its elements link to the first drawing that shows them
    if (!back && !many) faults.push(`item ${item.id} has no link back to its mark`);
  }
  for (const b of document.querySelectorAll('.item dd a')) {
    const svg = target(b)?.closest('svg');
    const id = b.closest('.item').id;
    if (!svg) faults.push(`item ${id} links to no drawing`);
    else if (!svg.querySelector(`a[href="#${id}"]`)) faults.push(`item ${id} links to a drawing without its mark`);
  }
  const numbers = [...document.querySelectorAll('.letter')].map((l) => [...l.querySelectorAll('.item .number')].map((n) => +n.lastChild.textContent));
  for (const list of numbers) {
    const sorted = list.toSorted((x, y) => x - y);
    if (sorted.some((n, i) => n !== i + 1)) faults.push(`items are numbered ${list.join(' ')}`);
  }
  return faults;
}

// A mark is clicked, then the link back: each time the target is in sight.
async function clicks(page) {
  const faults = [];
  const seen = (id) => page.evaluate((i) => {
    const r = document.getElementById(i).getBoundingClientRect();
    return r.bottom > 0 && r.top < innerHeight && r.right > 0 && r.left < innerWidth;
  }, id);
  const mark = page.locator('svg a').first();
  if (await mark.count() === 0) return faults;
  const item = (await mark.getAttribute('href')).slice(1);
  await mark.click();
  if (!page.url().endsWith('#' + item) || !await seen(item)) faults.push(`the mark does not lead to ${item}`);
  const back = page.locator(`[id="${item}"] dd a`).first();
  if (await back.count() === 0) return [`item ${item} has no link back to its mark`];
  const element = (await back.getAttribute('href')).slice(1);
  await back.focus();
  await page.keyboard.press('Enter');
  if (!await seen(element)) faults.push(`the keyboard does not lead back to ${element}`);
  return faults;
}

async function rules(page) {
  await page.evaluate(axe.source);
  const result = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
  return result.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(' ')}: ${n.failureSummary}`));
}

const sideways = (page, width) => page.evaluate((w) => document.documentElement.scrollWidth > w ? [`the page is ${document.documentElement.scrollWidth} wide at ${w}`] : [], width);

async function check(name) {
  const url = pathToFileURL(join(folder, name)).href;
  const shots = process.env.SHOTS;
  const { page, heard, took } = await open(url, 1280, 'light');
  say(name, 'opens without a word or a request', heard);
  say(name, 'opens within 10 s', took > 10_000 ? [`it took ${took} ms`] : []);
  say(name, 'no script', await page.evaluate(() => [...document.querySelectorAll('script, iframe, object, embed, [onclick], [onload], [onerror]')].map((e) => e.outerHTML.slice(0, 100))));
  say(name, 'links and marks', await page.evaluate(links));
  say(name, 'mark and back', await clicks(page));
  say(name, 'headings in order', await page.evaluate(() => {
    let last = 0;
    return [...document.querySelectorAll('h1, h2, h3, h4, h5, h6')].flatMap((h) => {
      const level = +h.tagName[1], from = last;
      last = level;
      return level > from + 1 ? [`h${level} after h${from}: ${h.textContent}`] : [];
    });
  }));
  say(name, 'accessible in light', await rules(page));
  if (shots) await page.screenshot({ path: join(shots, name + '-1280.png'), fullPage: true });
  for (const format of ['A4', 'Letter']) {
    const pdf = await page.pdf({ format, path: shots ? join(shots, `${name}-${format}.pdf`) : undefined });
    const pages = pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g)?.length ?? 0;
    say(name, `prints on ${format}`, pages > 0 ? [] : ['no page came out']);
  }
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width: 680, height: 900 }); // what the margins leave of A4
  say(name, 'fits the paper', await sideways(page, 680));
  await page.close();
  for (const [width, scheme] of [[320, 'light'], [390, 'dark'], [768, 'light'], [1280, 'dark']]) {
    const narrow = await open(url, width, scheme);
    say(name, `no sideways scroll at ${width}`, await sideways(narrow.page, width));
    if (width === 390) say(name, 'accessible in dark at 390', await rules(narrow.page));
    if (shots) await narrow.page.screenshot({ path: join(shots, `${name}-${width}-${scheme}.png`) });
    await narrow.page.close();
  }
}

try {
  for (const name of readdirSync(folder).filter((n) => n.endsWith('.html')).sort()) await check(name);
} finally {
  await context.close();
  rmSync(profile, { recursive: true, force: true });
}
