# Sourced by run and test: finds a Python, and keeps an environment in step with its lock file.
# Needs nothing but a POSIX shell and Python 3.11 or newer.

say() {
    printf '%s\n' "$*" >&2
}

# Prints the name of a Python that is new enough and can make environments.
find_python() {
    incomplete=''
    old=''
    for candidate in "${PYTHON:-}" python3.13 python3.12 python3.11 python3 python; do
        [ -n "$candidate" ] && command -v "$candidate" >/dev/null 2>&1 || continue
        version=$("$candidate" -c 'import sys; print("%d.%d" % sys.version_info[:2])' 2>/dev/null) || continue
        if ! "$candidate" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; then
            old=${old:-$candidate is Python $version}
            continue
        fi
        if "$candidate" -c 'import ensurepip, venv' >/dev/null 2>&1; then
            printf '%s\n' "$candidate"
            return 0
        fi
        incomplete=${incomplete:-$candidate}
    done
    if [ -n "$incomplete" ]; then
        version=$("$incomplete" -c 'import sys; print("%d.%d" % sys.version_info[:2])')
        say "$incomplete is Python $version, but its venv module is missing or incomplete."
        say "On Debian and Ubuntu: sudo apt install python$version-venv (or python3-venv)"
        say "Then run this again."
    else
        say "Python 3.11 or newer is needed, and none was found${old:+; $old}."
        say 'On Debian 12, Ubuntu 24.04 and newer: sudo apt install python3 python3-venv'
        say 'On Fedora: sudo dnf install python3'
        say 'On macOS with Homebrew: brew install python'
        say 'If it is installed under another name, say so: PYTHON=/path/to/python3 and this command.'
    fi
    return 1
}

# prepare FOLDER LOCK: makes an environment in FOLDER that holds exactly what LOCK lists.
prepare() {
    folder=$1
    lock=$2
    if [ -e "$folder" ] && "$folder/bin/python" -c '' >/dev/null 2>&1 && cmp -s "$lock" "$folder/installed.txt"; then
        return 0
    fi
    python=$(find_python) || return 1
    say "Preparing $folder (once, and again when $lock changes) ..."
    rm -rf "$folder"
    "$python" -m venv "$folder" || return 1
    if ! "$folder/bin/python" -m pip install --quiet --disable-pip-version-check --no-input --no-deps \
        --require-hashes --requirement "$lock"; then
        say "The packages of $lock could not be installed; see above. They are fetched from the package"
        say 'index that pip is set to, so a connection to it is needed this once.'
        return 1
    fi
    cp "$lock" "$folder/installed.txt"
}

# prepare_node FOLDER SOURCE: fills FOLDER with the npm packages that SOURCE locks. Without npm there are none, which is
# no failure: what needs them is skipped, and says so.
prepare_node() {
    node_folder=$1
    source_folder=$2
    if ! command -v npm >/dev/null 2>&1; then
        say 'npm is not installed: what callers run in Node is not tested.'
        return 0
    fi
    if cmp -s "$source_folder/package-lock.json" "$node_folder/installed.json"; then
        return 0
    fi
    say "Preparing $node_folder (once, and again when $source_folder/package-lock.json changes) ..."
    rm -rf "$node_folder"
    mkdir -p "$node_folder"
    cp "$source_folder/package.json" "$source_folder/package-lock.json" "$node_folder"
    if ! npm ci --prefix "$node_folder" --ignore-scripts --no-audit --no-fund --loglevel error >&2; then
        say "The packages of $source_folder/package-lock.json could not be installed; see above."
        return 1
    fi
    cp "$source_folder/package-lock.json" "$node_folder/installed.json"
}
