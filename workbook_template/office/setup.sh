# Set-up that both run commands share; sourced by bash. Does nothing, quickly, when all is there. Debian and its relatives only:
# elsewhere it names what is missing. `fail` is the only way out on trouble.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
python="$root/.venv/bin/python"
export PIP_DISABLE_PIP_VERSION_CHECK=1 PIP_NO_INPUT=1

fail() {
    printf 'Stopped: %s\n' "$1" >&2
    exit 1
}

tell() {
    printf '%s\n' "$1" >&2
}

# quietly WHAT COMMAND...: runs it, shows the end of its output only when it fails.
quietly() {
    local what=$1 log status=0
    shift
    log=$(mktemp) || fail "no temporary file can be made; is the disk full?"
    "$@" >"$log" 2>&1 </dev/null || status=$?
    [ "$status" = 0 ] || { tell "$what:" && tail -n 15 "$log" >&2; }
    rm -f "$log"
    return "$status"
}

as_root() {
    if [ "$(id -u)" = 0 ]; then
        "$@"
    else
        sudo "$@"
    fi
}

apt() {
    as_root env DEBIAN_FRONTEND=noninteractive apt-get -y -o DPkg::Lock::Timeout=300 -o Acquire::Retries=3 "$@"
}

# install_packages PACKAGE...: with the lists at hand, and once more with fresh lists.
install_packages() {
    local by_hand="install by hand: $*"
    command -v apt-get >/dev/null || fail "this system has no apt-get; $by_hand"
    if [ "$(id -u)" != 0 ]; then
        command -v sudo >/dev/null || fail "packages are missing and there is no sudo; $by_hand"
        sudo -n true 2>/dev/null || { [ -t 0 ] && sudo -v; } || fail "packages are missing and sudo was refused; $by_hand"
    fi
    tell "Installing $* (once) ..."
    apt install --no-install-recommends "$@" >/dev/null 2>&1 </dev/null && return
    quietly "apt-get update" apt update || fail "the package lists could not be fetched; check the network, or $by_hand"
    quietly "apt-get install" apt install --no-install-recommends "$@" || fail "apt-get could not install the packages; $by_hand"
}

has_calc() {
    local program
    program=$(command -v soffice) && [ -e "$(dirname "$(readlink -f "$program")")/libsclo.so" ]
}

has_uno() {
    local beside
    env -u PYTHONHOME -u PYTHONPATH /usr/bin/python3 -c 'import uno' 2>/dev/null && return
    beside=$(dirname "$(readlink -f "$(command -v soffice)")")/python
    [ -x "$beside" ] && "$beside" -c 'import uno' 2>/dev/null
}

has_fonts() {
    [ -e /usr/share/fonts/truetype/liberation ] || [ -e /usr/share/fonts/truetype/liberation2 ]
}

# need_programs CHECK:PACKAGE...: installs the packages whose check fails, in one go, and looks again.
need_programs() {
    local pair missing=()
    for pair in "$@"; do
        ${pair%%:*} 2>/dev/null || missing+=("${pair#*:}")
    done
    [ ${#missing[@]} = 0 ] && return
    install_packages "${missing[@]}"
    hash -r
    for pair in "$@"; do
        ${pair%%:*} || fail "${pair#*:} is installed but does not work here"
    done
}

has_pdftoppm() {
    command -v pdftoppm >/dev/null
}

has_node() {
    node -e 'process.exit(parseInt(process.versions.node) < 18 ? 1 : 0)' >/dev/null
}

has_npm() {
    command -v npm >/dev/null
}

has_postgresql() {
    compgen -G '/usr/lib/postgresql/*/bin/initdb' >/dev/null && command -v psql >/dev/null
}

good_python() {
    "$1" -c 'import sys; sys.exit(sys.version_info < (3, 10))' >/dev/null 2>&1
}

can_make_venv() {
    good_python "$1" && "$1" -c 'import venv, ensurepip' >/dev/null 2>&1
}

make_venv() {
    local base
    for base in python3 /usr/bin/python3; do
        can_make_venv "$base" && break
    done
    if ! can_make_venv "$base"; then
        install_packages python3 python3-venv
        base=/usr/bin/python3
        good_python "$base" || fail "Python 3.10 or newer is needed, and this system's python3 is older"
    fi
    quietly "python3 -m venv" "$base" -m venv --clear "$root/.venv" || fail "no Python environment could be made in $root/.venv"
}

# need_environment EXTRA: .venv with this project and the packages of that extra, renewed when pyproject.toml has changed.
need_environment() {
    local extra=$1 stamp="$root/.venv/installed-$1" want
    want="$root $(sha256sum <"$root/pyproject.toml")"
    is_current() {
        [ -x "$python" ] && [ "$(cat "$stamp" 2>/dev/null)" = "$want" ]
    }
    is_current && return
    exec 9<"$root"
    ! command -v flock >/dev/null || flock 9 # two first runs at once
    if ! is_current; then
        good_python "$python" && "$python" -m pip --version >/dev/null 2>&1 || make_venv
        tell "Installing Python packages into .venv (once) ..."
        quietly "pip install" "$python" -m pip install -q -e "$root[$extra]" \
            || fail "pip could not install the Python packages; check the network and try again"
        printf '%s\n' "$want" >"$stamp"
    fi
    exec 9<&-
}

# need_npm_tools: what tests/npm asks for, in .npm-tools, renewed when that has changed. No package's own script is run.
need_npm_tools() {
    local tools="$root/.npm-tools" want
    want="$root $(cat "$root/tests/npm/package.json" "$root/tests/npm/package-lock.json" | sha256sum)"
    [ "$(cat "$tools/installed" 2>/dev/null)" = "$want" ] && return
    tell "Installing npm packages into .npm-tools (once) ..."
    mkdir -p "$tools" && cp "$root"/tests/npm/package*.json "$tools/" || fail "the folder $tools cannot be written"
    quietly "npm ci" npm ci --prefix "$tools" --ignore-scripts --no-audit --no-fund \
        || fail "npm could not install the packages of tests/npm; check the network and try again"
    printf '%s\n' "$want" >"$tools/installed"
}
