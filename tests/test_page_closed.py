"""The page is closed to all but this person: each refusal, against the running server."""

from __future__ import annotations

import time
from collections.abc import Iterator

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


def test_only_this_machine_can_reach_it(page: Running):
    """The address of every interface but the loopback refuses the connection."""
    import socket

    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # sends nothing: it asks which address would be used
        except OSError:
            pytest.skip("this machine has no address but the loopback")
        own = probe.getsockname()[0]
    if own.startswith("127."):
        pytest.skip("this machine has no address but the loopback")
    with pytest.raises(OSError, match="refused"), socket.create_connection((own, page.port), timeout=5):
        pass


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
        time.sleep(0.4)
        yield data[at : at + 1]


def test_half_requests_and_slow_ones_are_closed_in_ten_seconds():
    """With two seconds instead of ten, and all at once: nothing, half a head, half a body, and two that drip."""
    assert PATIENCE_S <= 10
    import tempfile
    from concurrent.futures import ThreadPoolExecutor
    from pathlib import Path

    with tempfile.TemporaryDirectory() as folder, running(Path(folder) / "bench", patience=2) as page:
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
        assert max(took) < 2 + 1.5
        assert page.ask("/alive").status == 204


def test_paths_out_of_the_folders_are_not_there(page: Running):
    (page.bench / "secret.css").write_text("secret")
    for path in ("../guard.py", "..%2fguard.py", "%2e%2e/guard.py", "/etc/passwd", "..%5cguard.py", "page.css%00", ""):
        reply = page.ask(f"/static/{path}")
        assert reply.status in (307, 404)
        assert "hmac" not in reply.text
    assert page.ask("/static/secret.css").status == 404


@pytest.mark.parametrize("path", ["/", "/screen", "/static/page.js", "/no-such-page", "/alive"])
def test_every_answer_forbids_keeping_framing_guessing_and_foreign_content(page: Running, path: str):
    headers = page.ask(path).headers
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
