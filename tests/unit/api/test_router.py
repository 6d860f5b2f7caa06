from fastapi import FastAPI

from app.api.router import known_client, router
from tests.contract.routes import routes_of


def test_every_route_of_the_interface_asks_for_a_token() -> None:
    app = FastAPI(openapi_url=None)
    app.include_router(router)
    routes = list(routes_of(app))
    assert routes
    for route in routes:
        assert route.path.startswith("/api/")
        assert known_client in route.dependencies
