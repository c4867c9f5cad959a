# A static binary alone in an empty image, as a user without rights. The base image
# of the build is Debian's Go, of the release that `deploy/check vulns` scans; pin it by
# digest where builds must be repeatable.
FROM golang:1.26.10 AS build
WORKDIR /src
COPY go.mod go.sum ./
RUN go mod download
COPY . .
RUN CGO_ENABLED=0 go build -trimpath -ldflags=-s -o /swarf ./cmd/swarf

FROM scratch
# The certificates by which PostgreSQL's TLS certificate is checked.
COPY --from=build /etc/ssl/certs/ca-certificates.crt /etc/ssl/certs/
COPY --from=build /swarf /swarf
USER 65534:65534
ENV SWARF_LISTEN=0.0.0.0:8080
EXPOSE 8080
HEALTHCHECK --interval=10s --timeout=3s --start-period=5s CMD ["/swarf", "healthcheck"]
ENTRYPOINT ["/swarf"]
CMD ["serve"]
