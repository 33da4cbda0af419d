# SPDX-License-Identifier: GPL-3.0-or-later
"""Checks of po/: which files have strings, that placeholders agree, that languages are complete.

    check-po.py files|placeholders|complete|tone TOP
    check-po.py list TOP    prints the files with strings (po/update.sh writes POTFILES.in so)

Exit status 0 when all is well; otherwise each finding is one line.
"""
import pathlib
import re
import subprocess
import sys

# A file with one of these holds strings for people.
MARKS = re.compile(r'\b(?:T_|TN_|TERM|SAY|C_|NC_|_|N_|Q_|g_dpgettext2|g_dngettext) \(?"|'
                   r'\b(?:T_|TN_|C_|NC_|_|N_|Q_|TERM|SAY) ?\(')
FORMAT = re.compile(r'%(?:\d+\$)?[-+ #0]*(?:\d+|\*)?(?:\.(?:\d+|\*))?(?:hh|h|ll|l|z|j|t)?[diouxXeEfgGcsp%]')
BRACES = re.compile(r'\{[^{}]*\}')


def listed(top):
    lines = (top / 'po' / 'POTFILES.in').read_text(encoding='utf-8').splitlines()
    return [line.strip() for line in lines if line.strip() and not line.startswith('#')]


def without_comments(text):
    text = re.sub(r'/\*.*?\*/', '', text, flags=re.S)
    return '\n'.join(line for line in text.splitlines() if not line.lstrip().startswith('#define'))


def has_strings(path):
    text = path.read_text(encoding='utf-8', errors='replace')
    if path.suffix == '.c':
        return MARKS.search(without_comments(text)) is not None
    if path.suffix == '.ui':
        return 'translatable="yes"' in text
    return path.name.endswith(('.desktop.in', '.desktop.in.in', '.metainfo.xml.in',
                               '.metainfo.xml.in.in', '.gschema.xml'))


def files_with_strings(top):
    found = []
    for folder in ('src', 'ui', 'data'):
        for path in (top / folder).rglob('*'):
            if path.is_file() and has_strings(path):
                found.append(path.relative_to(top).as_posix())
    return sorted(found)


def check_files(top):
    names = listed(top)
    found = files_with_strings(top)
    for name in found:
        if name not in names:
            yield f'po/POTFILES.in lacks {name}'
    for name in names:
        if not (top / name).is_file():
            yield f'po/POTFILES.in names {name}, which is not there'
    if names != sorted(names) or len(set(names)) != len(names):
        yield 'po/POTFILES.in is not sorted, or names a file twice'


def unquote(lines):
    text = ''.join(re.search(r'"(.*)"', line).group(1) for line in lines)
    return re.sub(r'\\(.)', lambda m: {'n': '\n', 't': '\t'}.get(m.group(1), m.group(1)), text)


def messages(path):
    """Yields (msgid, [translations], plural) of the live messages of a .po file."""
    for block in path.read_text(encoding='utf-8').split('\n\n'):
        parts, key = {}, None
        for line in block.splitlines():
            if line.startswith('#'):
                continue
            match = re.match(r'(msgctxt|msgid_plural|msgid|msgstr(?:\[\d+\])?) "', line)
            key = match.group(1) if match else key
            if key:
                parts.setdefault(key, []).append(line)
        if 'msgid' not in parts:
            continue
        texts = {name: unquote(lines) for name, lines in parts.items()}
        strings = [text for name, text in texts.items() if name.startswith('msgstr')]
        if texts['msgid']:
            yield texts['msgid'], strings, texts.get('msgid_plural')


def holes(text):
    plain = [re.sub(r'\d+\$', '', hole) for hole in FORMAT.findall(text)]
    return sorted(plain), sorted(BRACES.findall(text))


def check_placeholders(top):
    for path in sorted((top / 'po').glob('*.po')):
        seen = 0
        for msgid, strings, plural in messages(path):
            seen += 1
            for text in strings:
                if text and holes(text) != holes(plural or msgid):
                    yield f'{path.name}: other placeholders: {msgid!r} → {text!r}'
        if seen == 0:
            yield f'{path.name}: no messages'


# Our own words, and names that the keeper meets as "plate".
NOT_SAID = re.compile(r'!|\b(?:held|veil|veiled|sternites?|segments?|Sternite?n?|Segmente?n?)\b')


def check_tone(top):
    """No exclamation marks; "held" and "veil" are our words; a plate is a plate everywhere."""
    for path in sorted((top / 'po').glob('*.po')):
        for msgid, strings, plural in messages(path):
            for text in [msgid, plural or ''] + strings:
                if NOT_SAID.search(text):
                    yield f'{path.name}: {text!r}'


def check_complete(top):
    run = subprocess.run(['sh', str(top / 'po' / 'update.sh'), '--check'], capture_output=True,
                         text=True, check=False)
    if run.returncode != 0:
        yield run.stderr.strip() or 'po/update.sh --check failed'
    for path in sorted((top / 'po').glob('*.po')):
        run = subprocess.run(['msgfmt', '--check', '--statistics', '-o', '/dev/null', str(path)],
                             capture_output=True, text=True, check=False,
                             env={'PATH': '/usr/bin:/bin', 'LC_ALL': 'C'})
        if run.returncode != 0 or 'fuzzy' in run.stderr or 'untranslated' in run.stderr:
            yield f'{path.name}: {run.stderr.strip()}'


def main():
    what, top = sys.argv[1], pathlib.Path(sys.argv[2])
    if what == 'list':
        print('\n'.join(files_with_strings(top)))
        return 0
    check = {'files': check_files, 'placeholders': check_placeholders,
             'complete': check_complete, 'tone': check_tone}[what]
    findings = list(check(top))
    for line in findings:
        print(line)
    return 1 if findings else 0


if __name__ == '__main__':
    sys.exit(main())
