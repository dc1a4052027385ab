"""The page is closed to all but this person: each refusal, against the running server."""

from __future__ import annotations

import socket
import struct
import time
import zlib
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from page_server import Running, running, seconds

from jigs.page.guard import MOST_FORM, PATIENCE_S


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running(tmp_path_factory.mktemp("page") / "bench") as found:
        yield found


def test_the_first_address_sets_a_strict_cookie_and_leads_to_the_page(page: Running):
    reply = page.ask(page.address.partition(page.host)[2], cookie=None)
    assert (reply.status, reply.headers["location"]) == (303, "/")
    cookie = reply.headers["set-cookie"]
    assert cookie.startswith(page.cookie)
    assert {"HttpOnly", "SameSite=Strict", "Path=/"} <= {part.strip() for part in cookie.split(";")}
    assert page.ask("/").status == 200


@pytest.mark.parametrize("address", ["127.0.0.2", "0.0.0.0", "::1"])
def test_it_listens_at_one_address_of_the_loopback_alone(page: Running, address: str):
    """What listens on every interface answers at any address of 127.0.0.0/8, RFC 1122 3.2.1.3 (S)."""
    if address == "0.0.0.0":  # where a connection to it goes to the loopback, our own address answers
        address = _address_in_a_network()
    with pytest.raises(OSError), socket.create_connection((address, page.port), timeout=5):  # noqa: PT011
        pass
    with socket.create_connection(("127.0.0.1", page.port), timeout=5):
        pass


def _address_in_a_network() -> str:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # sends nothing: it asks which address would be used
        except OSError:
            pytest.skip("this machine has no address but the loopback")
        found = str(probe.getsockname()[0])
    if found.startswith("127."):
        pytest.skip("this machine has no address but the loopback")
    return found


@pytest.mark.parametrize(
    ("status", "words", "headers"),
    [
        (403, "Open the page by the address", {"cookie": None}),
        (403, "Open the page by the address", {"cookie": "coilwright-1=x"}),
        (421, "not the host", {"host": "coilwright.example"}),
        (421, "not the host", {"host": "localhost:80"}),
        (403, "another page", {"origin": "http://coilwright.example"}),
        (403, "another page", {"origin": "null"}),
        (403, "another page", {"sec_fetch_site": "cross-site"}),
        (403, "another page", {"sec_fetch_site": "same-site"}),
        (403, "another page", {"origin": "http://127.0.0.1:1"}),
        (431, "too long", {"x": "y" * 9_000}),
    ],
)
def test_who_is_not_let_in_learns_nothing(page: Running, status: int, words: str, headers: dict[str, str | None]):
    for path in ("/", "/static/page.css", "/alive"):
        reply = page.ask(path, **headers)
        assert (reply.status, words in reply.text) == (status, True)
        assert str(page.bench) not in reply.text
        assert "/" not in reply.text  # no path of the machine
        assert reply.headers["connection"] == "close"


def test_a_wrong_token_is_refused_and_a_right_one_alone_opens_nothing_but_the_first_page(page: Running):
    token = page.address.partition("token=")[2]
    assert page.ask("/?token=wrong", cookie=None).status == 403
    assert page.ask(f"/screen?token={token}", cookie=None).status == 403


def test_a_form_of_another_site_changes_nothing(page: Running):
    for headers in ({"origin": "http://a.example"}, {"origin": None}, {"sec_fetch_site": "cross-site"}):
        assert page.ask("/close", method="POST", **headers).status == 403
    assert page.process.poll() is None


def test_a_second_host_beside_ours_is_refused(page: Running):
    head = f"GET / HTTP/1.1\r\nHost: {page.host}\r\nHost: a.example\r\nCookie: {page.cookie}\r\n\r\n"
    assert page.raw(head.encode()).status in (400, 421)


def test_a_body_or_a_line_that_is_too_large_is_refused(page: Running):
    assert page.ask("/close", method="POST", content_length=str(MOST_FORM + 1)).status == 413
    length = str(10**10)
    assert page.ask("/close", method="POST", content_type="image/png", content_length=length).status == 413
    for size in (17_000, 200_000):
        assert page.ask(f"/?wire={'1' * size}").status in (0, 400, 431)
        assert page.ask("/", x_long="1" * size).status in (0, 400, 431)


def test_a_length_together_with_chunks_is_refused(page: Running):
    start = f"POST /close HTTP/1.1\r\nHost: {page.host}\r\nCookie: {page.cookie}\r\nOrigin: http://{page.host}\r\n"
    for more in ("Content-Length: 0\r\nTransfer-Encoding: chunked\r\n", "Transfer-Encoding: chunked\r\n"):
        assert page.raw(f"{start}{more}\r\n0\r\n\r\n".encode()).status == 400
    assert page.raw(f"{start}Content-Length: 0\r\nContent-Length: 5\r\n\r\nabcde".encode()).status == 400
    assert page.process.poll() is None


def _dripped(data: bytes) -> Iterator[bytes]:
    for at in range(len(data)):
        time.sleep(0.2)
        yield data[at : at + 1]


def test_half_requests_and_slow_ones_are_closed_in_ten_seconds(tmp_path: Path):
    """With one second instead of ten, and all at once: nothing, half a head, half a body, and some that drip."""
    assert PATIENCE_S <= 10
    with running(tmp_path / "bench", patience=1) as page:
        ours = f"Host: {page.host}\r\nCookie: {page.cookie}\r\nOrigin: http://{page.host}\r\n"
        body = f"POST /close HTTP/1.1\r\n{ours}Content-Length: 900\r\n\r\nabc".encode()
        cases = (
            (b"", b""),
            (b"GET / HTT", b""),
            (f"GET / HTTP/1.1\r\n{ours}".encode(), b""),
            (body, b""),
            (b"GET / HTTP/1.1\r\nX: ", b"y" * 900),
            (body, b"y" * 900),
            # what follows an answer on the same line is waited for no longer
            (f"GET /alive HTTP/1.1\r\n{ours}\r\nGET /al".encode(), b"i" * 900),
        )

        def timed(case: tuple[bytes, bytes]) -> float:
            started = time.monotonic()
            page.raw(case[0], _dripped(case[1]))
            return seconds(started)

        with ThreadPoolExecutor(len(cases)) as pool:
            took = list(pool.map(timed, cases))
        assert min(took) > 0.9  # and not at once: a slow line is let through
        assert max(took) < 1 + 1.5
        assert page.ask("/alive").status == 204


OUTSIDE = (
    *(
        f"/static/{path}"
        for path in ("../guard.py", "..%2fguard.py", "%2e%2e/guard.py", "/etc/passwd", "..%5cguard.py")
    ),
    *("/static/page.css%00", "/static/", "/static/secret.css", "/../secret.css", "/%2e%2e/secret.css"),
    *(f"/orders/..%2f{name}{tab}" for name in ("secret.toml", "..%2fsecret.toml") for tab in ("", "/text", "/plan")),
    *("/orders/%2e%2e%5csecret.toml/text", "/orders/%2fetc%2fpasswd", "/orders/secret.toml%00/text"),
    *("/sheets/..%2fsecret", "/sheets/ring-card/..%2f..%2fsecret.toml", "/drawer/..%2fsecret", "/records/..%2fsecret"),
    *("/printers/scan/..%2f..%2fsecret", "/orders/a.toml/pack/..%2fsecret", "http://127.0.0.1/secret.toml", "*"),
)


@pytest.mark.parametrize("path", OUTSIDE)
def test_paths_out_of_the_folders_are_not_there(page: Running, path: str):
    for name in ("secret.css", "secret.toml"):
        (page.bench / name).write_text('title = "let out"\n')
        (page.bench.parent / name).write_text('title = "let out"\n')
    reply = page.ask(path)
    assert reply.status in (404, 422)
    assert "hmac" not in reply.text
    assert "let out" not in reply.text
    assert "root:" not in reply.text


def test_a_name_that_leads_out_of_the_folder_is_not_written_there(page: Running):
    before = {path for path in page.bench.parent.rglob("*") if path.parent != page.bench / "orders"}
    for name in ("..%2f..%2fout.toml", "%2fvar%2fout.toml", "..%5cout.toml", "out.toml%00", ".out.toml"):
        page.ask(f"/orders/taken-in?name={name}", method="POST", body=b'title = "x"', content_type="text/plain")
        page.ask("/orders", method="POST", body=f"name={name.removesuffix('.toml')}&whom=one".encode())
    now = {path for path in page.bench.parent.rglob("*") if path.parent != page.bench / "orders"}
    assert now - before <= {page.bench / "orders"}
    assert {path.name for path in (page.bench / "orders").iterdir()} <= {"out.toml", "out.toml.lock"}


@pytest.mark.parametrize(
    ("body", "says"),
    [
        (b"#" * 300_000, "longer than 256 KiB"),
        (b"\xff\xfe\x00", "is not text"),
        (b"a = " + (b"[" * 300 + b"\n") * 50, "at most 20 deep"),
        (b"[[ring", "the brackets"),
    ],
    ids=["large", "not text", "deep", "broken"],
)
def test_an_order_that_is_sent_goes_through_the_guards_of_files(page: Running, body: bytes, says: str):
    reply = page.ask("/orders/taken-in?name=sent.toml", method="POST", body=body, content_type="text/plain")
    assert reply.status == 422
    assert says in reply.text.partition('id="file-fault"')[2].partition("<")[0]
    assert not (page.bench / "orders" / "sent.toml").exists()


def _png(wide: int, high: int) -> bytes:
    """A picture that says it is so large, with next to nothing in it (PNG, third edition, 5 and 11.2, S)."""
    head = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(bytes(1000))), (b"IEND", b""))
    chunks = (struct.pack(">I", len(d)) + t + d + struct.pack(">I", zlib.crc32(t + d)) for t, d in parts)
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


@pytest.mark.parametrize(
    ("picture", "says"),
    [(_png(100_000, 100_000), "too large"), (_png(3000, 4000), "x.png"), (b"GIF89a", "is not a PNG, JPEG or TIFF")],
    ids=["a bomb", "cut off", "another kind"],
)
def test_a_scan_that_is_sent_goes_through_the_guards_of_files(page: Running, picture: bytes, says: str):
    given = f"called=a&in_tray=b&paper=a4&day=2026-01-01&names=x.png&sizes={len(picture)}"
    sent = page.ask(f"/printers/scan?{given}", method="POST", body=picture, content_type="image/png")
    for _ in range(100):
        reply = page.ask(sent.headers["location"])
        if "data-poll" not in reply.text:
            break
        time.sleep(0.05)
    alert = reply.text.partition('role="alert">')[2].partition("<")[0]
    assert says in alert
    assert str(page.bench.parent) not in reply.text


EVERYWHERE = (
    *((path, {}) for path in ("/", "/screen", "/static/page.js", "/no-such-page", "/alive", "/sheets/ring-card")),
    *((path, {}) for path in ("/sheets/ring-card/ring-card.pdf", "/orders/none.toml/plan", "/?token=wrong", "*")),
    ("/", {"cookie": None}),
    ("/", {"host": "a.example"}),
    ("/", {"origin": "http://a.example"}),
    ("/", {"x": "y" * 9_000}),
    ("/", {"content-length": "x"}),  # so it is not a request at all
    ("/close", {"method": "POST", "content_length": str(MOST_FORM + 1)}),
)


@pytest.mark.parametrize(("path", "how"), EVERYWHERE)
def test_every_answer_forbids_keeping_framing_guessing_and_foreign_content(
    page: Running, path: str, how: dict[str, str]
):
    headers = page.ask(path, **how).headers
    policy = dict(part.strip().split(" ", 1) for part in headers["content-security-policy"].split(";"))
    assert "unsafe" not in str(policy)
    assert policy["default-src"] == "'none'"
    assert policy["frame-ancestors"] == "'none'"
    assert set(policy.values()) == {"'none'", "'self'"}
    assert headers["cache-control"] == "no-store"
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["x-frame-options"] == "DENY"
    assert "access-control-allow-origin" not in headers
    assert "server" not in headers


def test_no_page_asks_for_anything_elsewhere(page: Running):
    for path in ("/", "/screen", "/static/page.css", "/static/page.js"):
        text = page.ask(path).text
        for found in ("http://", "https://", "//cdn", "@import"):
            assert found not in text.replace("http://www.w3.org/2000/svg", "")
        assert " style=" not in text


def test_other_methods_are_refused(page: Running):
    for method in ("PUT", "DELETE", "OPTIONS", "TRACE"):
        assert page.ask("/", method=method).status == 405
    assert page.ask("/", method="HEAD").body == b""


def test_nothing_that_is_typed_becomes_part_of_the_page(page: Running):
    reply = page.ask("/?wire=%3Cscript%3Ealert(1)%3C/script%3E&metal=%22%3E%3Cb%3E&price=%3Cimg%20src=x%3E")
    assert reply.status == 200
    assert "<script>alert" not in reply.text
    assert "<b>" not in reply.text
    assert "<img" not in reply.text
