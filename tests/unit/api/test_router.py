from fastapi import FastAPI
from fastapi.routing import APIRoute

from app.api.router import known_client, router


def test_every_route_of_the_interface_asks_for_a_token() -> None:
    app = FastAPI()
    app.include_router(router)
    routes = [route for route in app.routes if isinstance(route, APIRoute)]
    assert routes
    for route in routes:
        assert route.path.startswith("/api/")
        assert known_client in [d.call for d in route.dependant.dependencies]
