# The server's image; docker-compose.yml beside it starts it together with PostgreSQL.
ARG BASE=debian:13-slim

FROM ${BASE} AS packages
# Debian's own packages follow the base image's release, so they carry no versions here.
# hadolint ignore=DL3008
RUN apt-get update \
 && apt-get install -y --no-install-recommends ca-certificates python3 python3-venv \
 && rm -rf /var/lib/apt/lists/*
COPY requirements.txt /tmp/requirements.txt
RUN python3 -m venv /opt/boardshop/.venv \
 && /opt/boardshop/.venv/bin/pip install --no-cache-dir --disable-pip-version-check \
    --require-hashes --only-binary :all: -r /tmp/requirements.txt

FROM ${BASE}
# hadolint ignore=DL3008
RUN apt-get update \
 && apt-get install -y --no-install-recommends python3 libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 \
 && rm -rf /var/lib/apt/lists/* \
 && useradd --uid 10001 --user-group --no-create-home --home-dir /tmp boardshop \
 && install -d -o boardshop -g boardshop -m 0750 /data \
 && install -d -o boardshop -g boardshop -m 0755 /secrets
COPY --from=packages /opt/boardshop/.venv /opt/boardshop/.venv
WORKDIR /opt/boardshop
COPY manage.py LICENSE ./
COPY locale locale
COPY static static
COPY templates templates
COPY boardshop boardshop
ENV PATH=/opt/boardshop/.venv/bin:$PATH \
    PYTHONDONTWRITEBYTECODE=1 \
    PYTHONUNBUFFERED=1 \
    XDG_CACHE_HOME=/tmp/cache \
    NUMBA_CACHE_DIR=/data/compiled \
    BOARDSHOP_DATA_DIR=/data \
    BOARDSHOP_STATIC_DIR=/opt/boardshop/staticfiles
RUN BOARDSHOP_SECRET_KEY=only-for-this-step python manage.py collectstatic --noinput
USER 10001
EXPOSE 8000
HEALTHCHECK --interval=10s --timeout=6s --start-period=90s CMD ["python", "-m", "boardshop.ops.probe", "8000"]
CMD ["python", "-m", "boardshop.ops.server"]
