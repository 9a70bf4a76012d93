"""What is wrong with the page that stands in the browser: published rules by axe-core, and three of our own."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

# WCAG 2.0, 2.1 and 2.2, levels A and AA. The rule on the size of targets is off by default.
RULES = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]},
    "rules": {"target-size": {"enabled": True}},
}
AXE = Axe()

# Text that runs out of the page sideways, where it should have been set in more lines (WCAG 2.2, 1.4.10).
TOO_WIDE = """() => {
    const most = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= most) return [];
    return [...document.querySelectorAll("main *")]
        .filter((it) => it.getBoundingClientRect().right > most + 1 && !it.closest(".scroll, svg"))
        .slice(0, 3)
        .map((it) => `${it.tagName.toLowerCase()}.${it.className} ends at ${it.getBoundingClientRect().right}`)
        .concat([`the page is ${document.documentElement.scrollWidth} wide`]);
}"""

# A control that has the focus shows it, and nothing lies over it (WCAG 2.2, 2.4.7 and 2.4.11).
UNSEEN_FOCUS = """() => {
    const controls = [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")]
        .filter((it) => !it.disabled && it.type !== "hidden" && it.checkVisibility());
    // Of controls that are styled alike, three stand for all.
    const seen = new Map(), faults = [];
    const kind = (it) => `${it.tagName} ${it.type} ${it.className}`;
    const alike = (it) => `${kind(it)} in ${kind(it.parentElement)}`;
    for (const control of controls) {
        seen.set(alike(control), (seen.get(alike(control)) || 0) + 1);
        if (seen.get(alike(control)) > 3) continue;
        control.focus({focusVisible: true});
        if (document.activeElement !== control) continue;
        const style = getComputedStyle(control), name = control.outerHTML.slice(0, 90);
        const marked = it => parseFloat(it.outlineWidth) >= 2 && it.outlineStyle !== "none";
        const label = control.closest("label") || document.querySelector(`label[for="${CSS.escape(control.id)}"]`);
        if (!marked(style) && !(label && marked(getComputedStyle(label)))) faults.push(`no focus is seen on ${name}`);
        const box = control.getBoundingClientRect();
        const top = document.elementFromPoint(box.left + Math.min(box.width, 8) / 2, box.top + box.height / 2);
        if (top && !control.contains(top) && !top.contains(control) && !top.closest("label"))
            faults.push(`${top.outerHTML.slice(0, 60)} lies over ${name}`);
    }
    document.activeElement.blur();
    return faults.slice(0, 4);
}"""

# For a gloved hand: nothing smaller than 44 px to tap, but for links within a sentence.
SMALL = """() => [...document.querySelectorAll("main a[href], main button, main input, main select, main summary")]
    .filter((it) => it.checkVisibility() && it.type !== "hidden" && !it.closest("p, .foot") && !it.closest("label"))
    .map((it) => [it.outerHTML.slice(0, 80), it.getBoundingClientRect()])
    .filter(([, box]) => box.width > 0 && Math.min(box.width, box.height) < 43.5)
    .slice(0, 4).map(([name, box]) => `${name} is ${Math.round(box.width)} by ${Math.round(box.height)}`)"""


def broken_rules(page: Page) -> list[str]:
    """The rules of WCAG 2.2 A and AA that axe-core finds broken, with where."""
    found = AXE.run(page, options=RULES).response["violations"]
    return [f"{each['id']}: {each['nodes'][0]['html'][:120]} ({len(each['nodes'])})" for each in found]


def too_wide(page: Page) -> list[str]:
    """What makes the page scroll sideways."""
    return [str(each) for each in page.evaluate(TOO_WIDE)]


def unseen_focus(page: Page) -> list[str]:
    """The controls on which a keyboard's focus is not seen, or is covered."""
    return [str(each) for each in page.evaluate(UNSEEN_FOCUS)]


def small_targets(page: Page) -> list[str]:
    """The controls that a gloved hand would miss."""
    return [str(each) for each in page.evaluate(SMALL)]


def faults_of(page: Page) -> list[str]:
    """What keeps somebody from using the page that stands in the browser."""
    return [*broken_rules(page), *too_wide(page), *unseen_focus(page)]
