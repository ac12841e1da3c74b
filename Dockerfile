# A static binary, nothing else. Build: docker build -t mendline .
# Run: docker run -p 8080:8080 -v mendline:/data mendline serve -addr :8080 -data /data -host pit.local
# Behind Docker's bridge the addresses the banner prints are the container's own:
# give the laptop's name with -host, and tell people the laptop's address.
FROM golang:1.26 AS build
WORKDIR /src
COPY go.mod go.sum ./
RUN go mod download
COPY . .
RUN CGO_ENABLED=0 go build -trimpath -ldflags=-s -o /mendline ./cmd/mendline
RUN mkdir /data && chown 65532:65532 /data

FROM scratch
COPY --from=build /mendline /mendline
COPY --from=build /src/cmd/mendline/notices.txt /NOTICES.txt
COPY --from=build --chown=65532:65532 /data /data
USER 65532:65532
VOLUME /data
EXPOSE 8080
HEALTHCHECK --interval=30s --timeout=6s CMD ["/mendline", "healthy", "-addr", ":8080"]
ENTRYPOINT ["/mendline"]
CMD ["serve", "-addr", ":8080", "-data", "/data"]
