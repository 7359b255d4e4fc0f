# Two images: `app` for web, workers and clock; `storage` for the clips.

FROM python:3.11-slim AS app
WORKDIR /app
COPY requirements requirements
COPY package.json package-lock.json .npmrc ./
COPY bin bin
RUN python -c "import sys; sys.path.insert(0, 'bin'); import bootstrap; bootstrap.prepare(with_checks=False)"
COPY . .
RUN useradd --uid 1000 --create-home coach && mkdir /data && chown coach /data
USER 1000:1000
ENV PATH=/app/.venv/bin:$PATH PYTHONUNBUFFERED=1 PYTHONDONTWRITEBYTECODE=1 COACHDESK_DATA=/data
VOLUME /data

FROM rclone/rclone:1 AS storage
RUN mkdir -p /data/clips && chown -R 1000:1000 /data
USER 1000:1000
VOLUME /data
