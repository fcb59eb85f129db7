"""Asks the server on this machine whether it does its work: `python -m boardshop.ops.probe [PORT]`."""

import http.client
import os
import sys


def is_well(port: int) -> bool:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
    try:
        connection.request("GET", "/healthz", headers={"Host": "localhost"})
        return connection.getresponse().status == 200
    except (OSError, http.client.HTTPException):
        return False
    finally:
        connection.close()


def main(arguments: list[str]) -> int:
    port = arguments[0] if arguments else os.environ.get("BOARDSHOP_PORT") or "8000"
    return 0 if is_well(int(port)) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
