# A static binary and nothing else, run by nobody in particular, with one
# volume for the database.
#
#   docker build -t rungbook .
#   docker run -v rungbook:/data -v ./token:/token:ro -e RUNGBOOK_TOKEN_FILE=/token rungbook
#
# go.mod asks for Go 1.26; go1.26.8's own library has known faults that later
# releases mend, so an image for others is built with the newest Go there is.
ARG GO=1.27
FROM golang:${GO} AS build
WORKDIR /src
COPY go.mod go.sum ./
RUN go mod download
COPY . .
RUN CGO_ENABLED=0 go build -trimpath -ldflags='-s -w' -o /rungbook . && mkdir /data

FROM scratch
COPY --from=build /rungbook /rungbook
# A VOLUME alone would leave the folder root's.
COPY --from=build --chown=65532:65532 /data /data
USER 65532:65532
ENV RUNGBOOK_DB=/data/rungbook.db RUNGBOOK_LISTEN=127.0.0.1:8080
VOLUME /data
ENTRYPOINT ["/rungbook"]
HEALTHCHECK CMD ["/rungbook", "health"]
CMD ["serve"]
