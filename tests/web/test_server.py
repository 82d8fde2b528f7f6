"""Lessons over sockets: who comes in, who comes back, and what a page that does not behave can do."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.websockets import WebSocketDisconnect

from coach.records.profile import learner_path
from coach.records.profile import load as load_profile
from tests.web.room import CODE, ORIGIN, House, Page


@pytest.fixture
def house(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[House]:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    made = House()
    with made.client:
        yield made
    made.lessons.close()


def refused(house: House, **hello: object) -> str:
    with house.page(**hello) as page:  # type: ignore[arg-type]
        why: str = page.until("refused")["why"]
        assert page.next()["kind"] == "closed"
    assert why.endswith(".")
    return why


def test_a_typed_lesson_goes_from_the_greeting_to_its_end(house: House) -> None:
    with house.page() as page:
        assert page.next()["kind"] == "welcome"
        page.answer("top cross")
        page.answer("stop")
        assert page.until("end")["outcome"] == "stopped"
        assert page.next()["kind"] == "closed"
    assert "Which step" in " ".join(page.said) and len(page.said) > 4
    assert not house.log


def test_nobody_comes_in_with_a_wrong_code_or_from_another_page(house: House) -> None:
    assert "join code" in refused(house, code="WRONG2")
    for origin in ({}, {"origin": "http://elsewhere.example"}):
        with pytest.raises(WebSocketDisconnect), house.client.websocket_connect("/lesson", headers=origin):
            pass
    assert len(house.log) == 3


def test_a_page_of_another_version_or_that_begins_otherwise_is_told_to_load_again(house: House) -> None:
    assert "another version" in refused(house, version=2)
    with house.client.websocket_connect("/lesson", headers=ORIGIN) as socket:
        socket.send_text(json.dumps({"kind": "answer", "text": "yes"}))
        assert "hello first" in Page(socket).until("refused")["why"]


def test_a_name_is_there_once_and_may_come_again_after_it_has_left(house: House) -> None:
    with house.page("Juno") as page:
        page.until("listening")
        assert "juno is having a lesson already" in refused(house, name=" juno ")
        page.send(kind="bye")
        page.until("end")
    with house.page("Juno") as page:
        assert page.next()["kind"] == "welcome"
    assert refused(house, name="!!")


def test_who_leaves_goes_on_where_they_were(house: House) -> None:
    with house.page("Juno") as page:
        page.answer("top cross")
        page.answer("yes")
        page.until("listening")
        page.send(kind="answer", text="stop")
        page.until("end")
    assert load_profile(learner_path("Juno")).step == "top-cross"
    with house.page("Juno") as page:
        page.until("listening")
        assert "top cross" in page.said[-1]
        page.send(kind="bye")


def test_without_a_name_nothing_is_kept(house: House, tmp_path: Path) -> None:
    with house.page() as page:
        page.answer("top cross")
        page.answer("yes")
        page.answer("stop")
        page.until("end")
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == ["unfinished.sqlite"]
    house.lessons.close()
    with sqlite3.connect(house.unfinished.path) as kept:
        left = [kept.execute(f"SELECT count(*) FROM {table}").fetchone() for table in ("lesson", "event")]
    assert left == [(0,), (0,)]


def test_a_page_that_comes_back_is_at_the_same_sentence(house: House) -> None:
    with house.page() as page:
        word = page.next()["resume"]
        page.until("listening")
    with house.page(resume=word) as back:
        assert back.next()["resume"] == word
        assert back.next()["text"] == page.said[-1]
        assert back.next()["kind"] == "listening"
        back.send(kind="answer", text="stop")
        assert back.until("end")["outcome"] == "stopped"
    with house.page(resume=word) as new:
        assert new.next()["resume"] != word


def test_a_lesson_outlasts_its_server(house: House) -> None:
    def start() -> tuple[str, list[str]]:
        with house.page("Juno") as page:
            word: str = page.next()["resume"]
            page.answer("top cross")
            page.answer("yes")
            page.until("listening")
            return word, page.said

    word, said = start()
    # The first server is as good as killed: nothing of it is closed, and the second has only the file.
    again = House()
    with again.client, again.page(code="", resume=word) as page:
        assert page.next()["resume"] == word
        page.until("listening")
        assert page.said and page.said[-1] == said[-1] and len(page.said) < len(said)
        page.send(kind="answer", text="stop")
        assert page.until("end")["outcome"] == "stopped"
    with again.client:
        assert "join code" in refused(again, code="", resume=word)
    again.lessons.close()


def test_when_all_places_are_taken_the_next_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    small = House(most=1)
    with small.client, small.page() as page:
        page.until("listening")
        assert "All places are taken" in refused(small)
    small.lessons.close()


@pytest.mark.parametrize(
    "wrong", [b"", b"\1", b"\2" + bytes(644), "{}", "[", '{"kind": "hello"}', '{"kind": "answer"}']
)
def test_what_is_malformed_is_logged_in_a_line_and_harms_no_lesson(house: House, wrong: str | bytes) -> None:
    def throw(page: Page) -> None:
        page.socket.send_text(wrong) if isinstance(wrong, str) else page.socket.send_bytes(wrong)

    with house.page() as other, house.page() as page:
        page.until("listening")
        for _ in range(19):
            throw(page)
        page.send(kind="answer", text="top cross")
        page.until("listening")
        assert len(house.log) == 19
        throw(page)
        assert page.until("refused")["why"].endswith(".")
        other.answer("stop")
        assert other.until("end")["outcome"] == "stopped"
    assert len(house.log) == 21


def test_a_page_that_floods_is_closed(house: House) -> None:
    with house.page() as page:
        page.until("listening")
        for number in range(600):
            page.socket.send_bytes(b"\1" + number.to_bytes(4, "little") + bytes(640))
        page.until("refused")
    assert len(house.log) == 1


def test_what_is_typed_before_a_question_is_no_answer_to_it(house: House) -> None:
    with house.page() as page:
        page.until("speaking")
        page.send(kind="answer", text="top cross")
        page.answer("stop")
        page.until("end")
    assert "Which step" in page.said[-2]


def test_a_page_that_reports_nothing_is_waited_for(house: House) -> None:
    with house.page() as page:
        heard: list[bytes] = []
        page.hear = heard.append  # type: ignore[method-assign]
        page.until("speaking")
        page.send(kind="played", utterance=1, samples=1)
        page.send(kind="bye")
        page.until("end")
    assert len(page.said) == 1 and heard


def test_a_wish_to_stop_is_heard_whenever_it_is_typed(house: House) -> None:
    with house.page() as page:
        page.until("speaking")
        page.send(kind="answer", text="stop")
        assert page.until("end")["outcome"] == "stopped"


def test_pages_run_nothing_from_elsewhere(house: House) -> None:
    names = ("/", "/static/lesson.js", "/static/style.css", "/static/icon.svg", "/static/nothing.js")
    for name in names:
        answer = house.client.get(name)
        assert answer.status_code == (404 if "nothing" in name else 200)
        policy = answer.headers["content-security-policy"]
        assert policy.startswith("default-src 'none'") and "unsafe" not in policy and "http" not in policy
        assert "set-cookie" not in answer.headers
    for path in ("/docs", "/openapi.json", "/static/../server.py", "/static/%2e%2e/server.py"):
        assert house.client.get(path).status_code == 404
    page = house.client.get("/").text
    assert "http" not in page and "style=" not in page and CODE not in page
