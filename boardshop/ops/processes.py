"""Which processes run, and as whom a program that refuses to be root may run.  Standard library only."""

import contextlib
import os
import pwd
import shutil
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Account:
    """A user to run programs as: directly, or through a command put in front."""

    uid: int
    gid: int
    prefix: tuple[str, ...] = ()
    switches_user: bool = False

    def run(self, command: Sequence[str | Path]) -> subprocess.CompletedProcess[str]:
        """Runs to the end; standard output and error come back together."""
        return subprocess.run(
            [*self.prefix, *(str(part) for part in command)],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            check=False,
            cwd="/",
            env={"PATH": os.environ.get("PATH", os.defpath), "LC_ALL": "C"},
            user=self.uid if self.switches_user else None,
            group=self.gid if self.switches_user else None,
            extra_groups=[] if self.switches_user else None,
        )

    def take(self, folder: Path) -> None:
        """Makes the folder and all in it this account's own; only root needs to."""
        if os.geteuid() != 0 or folder.stat().st_uid == self.uid:
            return
        for path in [folder, *folder.rglob("*")]:
            os.chown(path, self.uid, self.gid, follow_symlinks=False)


def account_for(data: Path, program: Path, home: Path) -> Account | None:
    """As whom to run `program` on `data`: ourselves, or for root the best account that reaches both.

    None if we are root and nothing else reaches them.
    """
    if os.geteuid() != 0:
        return Account(os.geteuid(), os.getegid())
    home.mkdir(parents=True, exist_ok=True)
    script = '"$1" --version >/dev/null && cd "$2"'
    for account in _accounts_for_root(data):
        with contextlib.suppress(OSError):
            if account.run(["/bin/sh", "-c", script, "sh", program, home]).returncode == 0:
                return account
    return None


def _accounts_for_root(data: Path) -> list[Account]:
    owner = data.stat().st_uid if data.exists() else 0
    person = pwd.getpwuid(owner) if owner else pwd.getpwnam("nobody")
    uid, gid = person.pw_uid, person.pw_gid
    accounts = [Account(uid, gid, switches_user=True)]
    # Below a private home the account cannot walk to the folder.
    # A capability to pass folders helps, and opens them to nobody else; containers may have the second only.
    # Without no_setuid_fixup, access(2) ignores it, and PostgreSQL does not find its own programs.
    if shutil.which("setpriv"):
        who = (f"--reuid={uid}", f"--regid={gid}", "--clear-groups")
        switch = ("setpriv", *who, "--securebits=+no_setuid_fixup")
        accounts += [
            Account(uid, gid, (*switch, f"--inh-caps=+{capability}", f"--ambient-caps=+{capability}"))
            for capability in ("dac_read_search", "dac_override")
        ]
    if shutil.which("unshare"):
        accounts.append(Account(0, 0, ("unshare", "--user", "--map-user=1000", "--map-group=1000")))
    return accounts


def is_alive(pid: int) -> bool:
    """Whether the process exists and is more than a zombie that nobody has reaped yet."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        pass
    return _state(pid) not in {"Z", "X"}


def is_process_in(pid: int, folder: Path) -> bool:
    """Whether the process lives and works in `folder`; a pid used again by another process does not."""
    if pid <= 0 or not is_alive(pid):
        return False
    with contextlib.suppress(OSError):
        return Path(f"/proc/{pid}/cwd").samefile(folder)
    return str(folder) in " ".join(command_line(pid))


def command_line(pid: int) -> list[str]:
    """The arguments of a process; empty if they cannot be had."""
    with contextlib.suppress(OSError):
        return Path(f"/proc/{pid}/cmdline").read_text(errors="replace").rstrip("\0").split("\0")
    return _ps(pid, "args=").split(" ")


def _state(pid: int) -> str:
    with contextlib.suppress(OSError, IndexError):
        # The name before the state may hold spaces and brackets, so look behind the last one.
        return Path(f"/proc/{pid}/stat").read_text(errors="replace").rpartition(")")[2].split()[0]
    return _ps(pid, "stat=")[:1]


def _ps(pid: int, column: str) -> str:
    with contextlib.suppress(OSError):
        answer = subprocess.run(
            ["ps", "-o", column, "-p", str(pid)], capture_output=True, text=True, check=False
        )
        return answer.stdout.strip()
    return ""
